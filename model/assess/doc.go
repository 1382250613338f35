// Package assess says what the readings of a cycle show.
//
// There are three verdicts and no others. Shown: the readings show it. Failed: they
// show that it was not. Not known: they cannot show it. "Not known" is never
// rounded to either side. Each verdict comes with its reasons as codes with
// arguments, by how much, and the version of the rule; the inputs stand frozen in
// the cycle's first entry.
//
// # The rule, readings-1
//
// The hold is counted twice: as it is proven (a gap over the reading limit breaks
// it) and as it could have been (gaps were fine). If even the second is short of
// the planned minutes, the cycle failed. If only the first is, it is not known.
// Otherwise it is shown, provided that the vent was recorded by the site's rule
// before the hold, the needle was seen back at rest on zero before opening, the
// gauge can be bounded, and the guaranteed dose of the hold reaches the district's
// figure. The guaranteed dose never rescues a cycle. What stands for seconds of
// doubt is decided for the worse: a reading below the restart line breaks the hold
// from the reading before it to the reading after it.
//
// The verdict speaks of the chamber, from the gauge, if the air is out. Release also
// wants the witness from inside a pack, tape, dryness and wrap.
package assess
