// Package steam holds the physics that a dial needs before it can be believed:
// saturated steam, the atmosphere at a height, units, the gauge on the lid and
// the plan of a cycle that follows from them.
//
// Inside, pressures are absolute and in pascal, temperatures in degrees
// Celsius, heights in metres. Other units exist only at the edge (Unit).
// A value out of range is an error that names the input; no function returns
// NaN. Every figure is "chamber, from the gauge": it does not know the middle of
// a pack, and it holds only if the air was driven out.
//
// Sources: IAPWS R7-97(2012) for steam, ISO 2533:1975 for the atmosphere,
// EN 837-1 for gauge classes. The rules of the plan are stated beside it in
// plan.go. The program advises; the maker's instructions, national rules and a
// trained person decide.
package steam
