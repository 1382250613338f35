package work_test

import (
	"fmt"
	"os"
	"slices"
	"sync"
	"syscall"
	"testing"

	"mvuke/assets"
)

// faults lets operations through up to one, which fails. Our own files and the stick ask it (fault_disk_test.go), and SQLite does
// (fault_sqlite_test.go); the probe of the disk, the ballast and the lock do not: they hold nothing that could be lost.
type faults struct {
	mu    sync.Mutex
	deep  bool // SQLite's operations are counted, else ours
	at    int  // which one fails; 0: none
	kind  fault
	err   error
	armed bool
	n     int    // operations so far
	met   string // the operation that failed first; "": none did
}

type fault string

const (
	once  fault = "once"            // that one alone: the next try meets a good disk
	stays fault = "from then on"    // ours and SQLite's: a stick that was pulled, a disk that is full, a program that was killed
	lies  fault = "told it is well" // a stick that says it wrote, and did not
)

func (f *faults) hit(op string) error { return f.count(op, false) }

func (f *faults) count(op string, deep bool) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	switch {
	case !f.armed:
		return nil
	case f.met != "" && f.kind == stays:
		return f.err
	case f.deep != deep:
		return nil
	}
	if f.n++; f.n != f.at || f.kind == lies {
		return nil
	}
	f.met = op
	return f.err
}

// lie says whether a write is to be left out and called well.
func (f *faults) lie(op string) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	yes := f.armed && f.kind == lies && f.n == f.at && f.met == ""
	if yes {
		f.met = op
	}
	return yes
}

var causes = []error{syscall.EIO, syscall.ENOSPC, syscall.EROFS, syscall.EACCES}

// fewer is one in how many of SQLite's operations a short run tries: its own makers let each fail, and MVUKE_LONG does. Of ours each is tried.
const fewer = 8

// everyFault lets the first operation fail, then the second, and so on until a try meets no fault. It gives what was first found wrong.
func everyFault(t *testing.T, deep bool, kind fault, try func(*faults) error) (n int, wrong error) {
	t.Helper()
	underSQLite()
	defer func() { under = nil }()
	step := 1
	if deep && os.Getenv("MVUKE_LONG") == "" {
		step = fewer
		if testing.Short() {
			step *= fewer
		}
	}
	for n = 1; ; n += step {
		f := &faults{deep: deep, at: n, kind: kind, err: causes[n%len(causes)]}
		under = f
		if err := try(f); err != nil {
			return n, fmt.Errorf("operation %d (%s, %v, %s): %w", n, f.met, f.err, kind, err)
		}
		if f.n < n {
			return f.n, nil
		}
	}
}

// passes says that nothing was found wrong, after so many operations at least.
func passes(t *testing.T, least int, deep bool, kinds []fault, try func(*faults) error) {
	t.Helper()
	for _, kind := range kinds {
		n, err := everyFault(t, deep, kind, try)
		if err != nil {
			t.Error(err)
		} else if n < least {
			t.Errorf("only %d operations, %s", n, kind)
		}
		t.Logf("%d operations, %s", n, kind)
	}
}

// caught says that a bad twin was found out.
func caught(t *testing.T, kind fault, try func(*faults) error) {
	t.Helper()
	n, err := everyFault(t, false, kind, try)
	if err == nil {
		t.Errorf("%d operations, and nobody noticed", n)
	}
	t.Log("found out:", err)
}

// sentence says what is wrong with an error: a person must be told by a sentence of the catalogue.
func sentence(err error) error {
	if key := "refuse." + code(err); !slices.Contains(assets.Keys("en"), key) {
		return fmt.Errorf("no sentence for %w", err)
	}
	return nil
}
