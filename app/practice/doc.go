// Package practice is a pot that burns only in memory: for learning, and for making test data whose truth is known.
//
// Simulate runs a whole cycle by an invented hand and gives the log that such a person would have
// written. A Session puts a person at the pot: it keeps a register of its own on a root that is made for it and thrown away
// with its folder, so that nothing of it can enter a clinic's register; every cycle in it says that it is practice, and such a
// cycle is never released. The clock of a session runs up to sixty times as fast.
//
// Lessons say what to practise and when they are passed. Only the fact that a person passed a lesson is
// written into the clinic's register.
package practice
