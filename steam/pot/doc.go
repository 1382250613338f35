// Package pot is the steam pot as a body: how fast it warms and cools, what the vent drives out, how
// far the needle runs on after the fire is drawn, how long the steam takes to leave, whether the
// water lasts and whether the packs come out dry. It also burns on its own (Pot.Advance), for
// practice and for making test data, and learns its parameters from a pot's own logged cycles (Learn).
//
// It advises and trains. It never enters a verdict: what the readings show is decided without it, and
// a check of the imports keeps it so. Every figure is an estimate, good to what stands beside it; the maker's instructions,
// national rules and a trained person decide. Never open before the needle is on zero and steam
// has stopped.
//
// # The body
//
// Water, metal and steam share one temperature and the steam is saturated; air is mixed into the
// steam; packs lag behind; the fire reaches the pot with a lag. One temperature is a good picture of
// a pot of thirty kilograms that boils, and a poor one of a dry one: a pot that boils dry ends the picture.
//
// Units are SI: seconds, joules, watts, kilograms, kelvin, cubic metres; pressures and temperatures in
// the types of package steam. Energy and mass are accounted for and the books must close.
//
// Sources: properties from package steam; flow from the isentropic formula, Napier's rule and the
// API 520 example; material figures and calorific values from handbook tables named in testdata/steam;
// default sizes are estimates for a 40-litre aluminium pot (computed, no published measurement).
package pot
