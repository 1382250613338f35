package store

import (
	"testing"

	"mvuke/model/entry"
)

// What is taken out is called whole only where each of its bytes is as it was verified; without a sum nobody says so.
func TestWholeMeansEveryByte(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	for n := range byte(12) {
		w.cycle(n + 1)
	}
	stream := w.dev.Stream
	asked := func(s *Store) (n int, whole bool) {
		t.Helper()
		whole = true
		if err := s.After(stream, 0, func(piece []entry.Sealed, all bool) error { n += len(piece); whole = whole && all; return nil }); err != nil {
			t.Fatal(err)
		}
		return n, whole
	}
	n, whole := asked(w.s)
	if n < 10 || !whole {
		t.Fatalf("%d entries, whole %v", n, whole)
	}
	exec := func(q string, args ...any) {
		t.Helper()
		if _, err := w.s.reg.Exec(q, args...); err != nil {
			t.Fatal(err)
		}
	}
	exec("DROP TRIGGER entry_stays")
	for _, column := range []string{"body", "key", "sig"} {
		var pos int64
		var was []byte
		if err := w.s.reg.QueryRow("SELECT pos, "+column+" FROM entry WHERE stream = ? AND seq = 5", stream[:]).Scan(&pos, &was); err != nil {
			t.Fatal(err)
		}
		for _, at := range []int{0, len(was) / 2, len(was) - 1} {
			bad := append([]byte{}, was...)
			bad[at] ^= 4
			exec("UPDATE entry SET "+column+" = ? WHERE pos = ?", bad, pos)
			if _, whole := asked(w.s); whole {
				t.Errorf("byte %d of %s is another, and it is called whole", at, column)
			}
		}
		exec("UPDATE entry SET "+column+" = ? WHERE pos = ?", was, pos)
	}
	if _, whole := asked(w.s); !whole {
		t.Fatal("put back as it was, it is not whole")
	}
	if _, err := w.s.views.Exec("DELETE FROM whole WHERE pos = (SELECT max(pos) FROM whole)"); err != nil {
		t.Fatal(err)
	}
	if _, whole := asked(w.s); whole {
		t.Error("one has no sum, and all are called whole")
	}
}
