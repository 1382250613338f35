package store

import (
	"strings"
	"testing"
)

// Entries are found by columns that nobody signed: where one is not what its entry says, the full check finds it, and tables that are made anew do not rest on it.
func TestAColumnThatIsNotWhatTheEntrySaysIsFound(t *testing.T) {
	for column, other := range map[string]string{"id": "zeroblob(32)", "stream": "zeroblob(32)", "seq": "99", "kind": "kind + 1", "lamport": "lamport + 1"} {
		dir := t.TempDir()
		w := found(t, dir)
		w.cycle(1)
		w.cycle(2)
		if r, err := w.s.Check(nil); err != nil || !r.OK() {
			t.Fatal(r, err)
		}
		var pos int64
		if err := w.s.reg.QueryRow("SELECT max(pos) - 1 FROM entry").Scan(&pos); err != nil {
			t.Fatal(err)
		}
		if _, err := w.s.reg.Exec("DROP TRIGGER entry_stays"); err != nil {
			t.Fatal(err)
		}
		if _, err := w.s.reg.Exec("UPDATE entry SET "+column+" = "+other+" WHERE pos = ?", pos); err != nil {
			t.Fatal(err)
		}
		if r, err := w.s.Check(nil); err != nil || r.OK() || !strings.Contains(strings.Join(r.Faults, " "), "not what the entry says") {
			t.Errorf("%s: %v, %v", column, r.Faults, err)
		}
		w.s.known, w.s.places = nil, nil
		if err := w.s.RebuildViews(); err == nil {
			t.Errorf("%s: the read tables are made from it", column)
		}
	}
}
