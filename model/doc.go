// Package model holds the nouns of the trade: site, sterilizer, gauge, person,
// cycle, reading, pack, hold, policy; and the acts that a person signs about
// them (kind.go, act_*.go). It imports the standard library only, and it does
// not know steam: a stored record must stay readable when a formula is
// corrected, so a judged figure is stored with the rule that judged it.
//
// Stored numbers are whole: pascals, thousandths of a dial's unit, milliseconds,
// milli-degrees. The struct tags name the integer keys of the stored form; a
// key is never used again for something else.
package model
