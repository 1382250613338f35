// Package assets holds what people see: fonts, and every word of the program in
// one file a language (words/*.json). One catalogue serves the window, the
// headless tool and paper.
//
// A key names a sentence; {0}, {1}... are its arguments. A key that counts has
// forms "key#one", "key#other" as the language needs them. Numbers and dates are
// written in the reader's way. A word that a language lacks falls back to English,
// and a check lists it.
package assets
