// Package paper makes the sheets: wall card, slip for the fire, blank log sheet and
// cycle sheet, as PDF on A4 or A5, black and white friendly, with fonts inside. All
// words come from the catalogue; every sheet that gives a number for the pot
// carries the cautions.
//
// Sheets are drawn once, in millimetres of A4; A5 is the same page scaled.
package paper
