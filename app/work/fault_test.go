package work_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"mvuke/assets"
)

// faults lets operations through up to one, which fails. Our own files and the stick ask it (fault_disk_test.go), and SQLite does
// (fault_sqlite_test.go); the probe of the disk, the ballast and the lock do not: they hold nothing that could be lost.
type faults struct {
	mu    sync.Mutex
	at    int // which one fails
	kind  fault
	deep  bool // SQLite's operations are counted too
	err   error
	armed bool
	ops   []string // so far
	met   string   // the operation that failed first; "": none did
}

type fault string

const (
	once  fault = "once"            // that one alone: the next try meets a good disk
	stays fault = "from then on"    // a stick that was pulled, a disk that is full, a program that was killed
	lies  fault = "told it is well" // a stick that says it wrote, and did not
)

func (f *faults) hit(op string) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if !f.armed {
		return nil
	}
	f.ops = append(f.ops, op)
	if n := len(f.ops); f.at == 0 || n < f.at || (n > f.at && f.kind != stays) || f.kind == lies {
		return nil
	}
	if f.met == "" {
		f.met = op
	}
	return f.err
}

// lie says whether a write is to be left out and called well.
func (f *faults) lie(op string) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	yes := f.armed && f.kind == lies && len(f.ops) == f.at && f.met == ""
	if yes {
		f.met = op
	}
	return yes
}

var causes = []error{syscall.EIO, syscall.ENOSPC, syscall.EROFS, syscall.EACCES}

// fewer is how much of SQLite's operations a short run passes over: its own makers let each fail, and MVUKE_LONG does. Of ours none is passed over.
const fewer = 5

// everyFault lets the first operation fail, then the second, and so on until a try meets no fault. It gives what was first found wrong.
func everyFault(t *testing.T, kind fault, deep bool, try func(*faults) error) (n int, wrong error) {
	t.Helper()
	underSQLite()
	usual := &faults{deep: deep, armed: true}
	under = usual
	if err := try(usual); err != nil {
		return 0, fmt.Errorf("without a fault: %w", err)
	}
	for n = 1; ; n++ {
		if n <= len(usual.ops) && strings.HasPrefix(usual.ops[n-1], "sqlite") && n%fewer != 0 && os.Getenv("MVUKE_LONG") == "" {
			continue
		}
		f := &faults{at: n, kind: kind, deep: deep, err: causes[n%len(causes)]}
		under = f
		err := try(f)
		under = nil
		if err != nil {
			return n, fmt.Errorf("operation %d (%s, %v, %s): %w", n, f.met, f.err, kind, err)
		}
		if len(f.ops) < n {
			return n - 1, nil
		}
	}
}

// passes says that nothing was found wrong, after so many operations at least.
func passes(t *testing.T, least int, deep bool, kinds []fault, try func(*faults) error) {
	t.Helper()
	for _, kind := range kinds {
		n, err := everyFault(t, kind, deep, try)
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
	n, err := everyFault(t, kind, false, try)
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
