package main

import (
	"strings"
	"testing"
)

// events has a package that is well, one with a failed subtest, one that does
// not compile, one that crashed, and a line that is no event.
const events = `{"Action":"start","Package":"m/well"}
{"Action":"run","Package":"m/well","Test":"TestA"}
{"Action":"output","Package":"m/well","Test":"TestA","Output":"=== RUN   TestA\n"}
{"Action":"output","Package":"m/well","Test":"TestA","Output":"chatter\n"}
{"Action":"run","Package":"m/well","Test":"TestA/sub"}
{"Action":"pass","Package":"m/well","Test":"TestA/sub"}
{"Action":"pass","Package":"m/well","Test":"TestA"}
{"Action":"run","Package":"m/well","Test":"TestS"}
{"Action":"skip","Package":"m/well","Test":"TestS"}
{"Action":"output","Package":"m/well","Output":"PASS\n"}
{"Action":"output","Package":"m/well","Output":"ok  \tm/well\t0.1s\n"}
{"Action":"pass","Package":"m/well"}
{"Action":"run","Package":"m/ill","Test":"TestB"}
{"Action":"run","Package":"m/ill","Test":"TestB/deep"}
{"Action":"output","Package":"m/ill","Test":"TestB/deep","Output":"    want 2\n"}
{"Action":"fail","Package":"m/ill","Test":"TestB/deep"}
{"Action":"fail","Package":"m/ill","Test":"TestB"}
{"Action":"output","Package":"m/ill","Output":"FAIL\tm/ill\t0.1s\n"}
{"Action":"fail","Package":"m/ill"}
{"ImportPath":"m/broken","Action":"build-output","Output":"x.go:1: undefined: y\n"}
{"Action":"output","Package":"m/broken","Output":"FAIL\tm/broken [build failed]\n"}
{"Action":"fail","Package":"m/broken"}
{"Action":"run","Package":"m/crash","Test":"TestC"}
{"Action":"output","Package":"m/crash","Test":"TestC","Output":"panic: oh\n"}
{"Action":"fail","Package":"m/crash"}
go: not an event
{"Action":"skip","Package":"m/none"}`

func read(t *testing.T, in string) (*tally, string) {
	t.Helper()
	var out strings.Builder
	r := &testReader{tally: newTally(), out: &out, held: map[string]*strings.Builder{}, open: map[string]map[string]bool{}}
	if err := r.read(strings.NewReader(in)); err != nil {
		t.Fatal(err)
	}
	return r.tally, out.String()
}

func TestReaderCounts(t *testing.T) {
	got, _ := read(t, events)
	// Failed: TestB, TestC and the package that does not compile.
	if got.passed() != 1 || got.failed() != 3 || got.skipped() != 1 {
		t.Errorf("%d passed, %d failed, %d skipped; want 1, 3, 1", got.passed(), got.failed(), got.skipped())
	}
}

func TestReaderShowsWhatFailed(t *testing.T) {
	_, out := read(t, events)
	for _, want := range []string{"ok  \tm/well", "    want 2\n", "FAIL\tm/ill", "undefined: y", "panic: oh", "go: not an event"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not shown in:\n%s", want, out)
		}
	}
	for _, not := range []string{"chatter", "=== RUN", "PASS", "Action"} {
		if strings.Contains(out, not) {
			t.Errorf("%q is shown in:\n%s", not, out)
		}
	}
}

// A test that runs in two steps is one test, and failed if it ever did.
func TestTallyKeepsTheWorst(t *testing.T) {
	tl := newTally()
	for _, outcome := range []string{"skip", "pass", "skip"} {
		tl.add("m", "TestA", outcome)
	}
	if tl.passed() != 1 || tl.skipped() != 0 {
		t.Errorf("%d passed, %d skipped", tl.passed(), tl.skipped())
	}
	tl.add("m", "TestA", "fail")
	tl.add("m", "TestA", "pass")
	tl.packageFailed("m")
	if tl.passed() != 0 || tl.failed() != 1 {
		t.Errorf("%d passed, %d failed; want 0, 1", tl.passed(), tl.failed())
	}
}
