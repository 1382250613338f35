// Package learn holds the screens of practice: the ten lessons, the pot that burns on the screen beside the same screens as
// the real cycle, and the lesson's end. All of it stands in a hatched band with the word for practice.
package learn
