// Package app is the shell of the window: it shows one screen at a time, the places
// at its side, and who is acting; lets time go on; and calls out when a look at the
// needle is due. Screens and work know nothing of it.
package app
