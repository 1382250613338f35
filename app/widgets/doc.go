// Package widgets holds the drawn parts of the user interface: buttons, rows,
// cards, a dial, a curve, a side rail, a number pad and a few layouts.
//
// Nothing here knows what the program is about. Every word a person reads
// comes in through a parameter, every decision leaves through a callback, and
// nothing is stored. Colours come from one small palette (see Paper, Blue and
// the others), sizes grow with the text size of the theme, and every part that
// can be tapped can also be reached and worked by keyboard alone.
package widgets
