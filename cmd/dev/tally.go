package main

// A tally counts tests over all steps. A test that runs in two steps, as once
// more under the race detector, is one test; it passed only if it never failed.
type tally struct {
	tests map[testName]string // its worst outcome so far
	other int                 // failures that are no test's
}

type testName struct{ pkg, test string }

func newTally() *tally { return &tally{tests: map[testName]string{}} }

// add takes one outcome: pass, fail or skip. A test that was skipped in one
// step and ran in another counts as what it did when it ran.
func (t *tally) add(pkg, test, outcome string) {
	n := testName{pkg, test}
	if rank(outcome) > rank(t.tests[n]) {
		t.tests[n] = outcome
	}
}

func rank(outcome string) int {
	switch outcome {
	case "skip":
		return 1
	case "pass":
		return 2
	case "fail":
		return 3
	}
	return 0
}

// packageFailed makes sure that a package which failed without a failed test,
// for one that does not compile, is counted: nobody shall read "0 failed"
// after it.
func (t *tally) packageFailed(pkg string) {
	for n, outcome := range t.tests {
		if n.pkg == pkg && outcome == "fail" {
			return
		}
	}
	t.other++
}

func (t *tally) passed() int  { return t.count("pass") }
func (t *tally) skipped() int { return t.count("skip") }
func (t *tally) failed() int  { return t.count("fail") + t.other }

func (t *tally) count(outcome string) int {
	n := 0
	for _, o := range t.tests {
		if o == outcome {
			n++
		}
	}
	return n
}
