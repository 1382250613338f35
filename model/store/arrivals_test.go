package store

import (
	"testing"
	"time"

	"mvuke/model"
)

// The day of a stick is kept over a start, of each site apart, and what came after a moment does not count for it.
func TestTheLastArrivalBeforeADay(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	day := func(n int) time.Time { return time.Date(2027, 3, n, 15, 30, 0, 0, time.UTC) }
	for _, n := range []int{2, 9, 9} {
		if err := w.s.Arrived(day(n), true, model.ID{1}, model.ID{2}); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.s.Arrived(day(20), true, model.ID{2}); err != nil {
		t.Fatal(err)
	}
	w.s.Close()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	midnight := func(n int) time.Time { return time.Date(2027, 3, n, 0, 0, 0, 0, time.UTC) }
	for _, x := range []struct {
		site   byte
		before time.Time
		want   time.Time
	}{{1, midnight(31), midnight(9)}, {1, midnight(9), midnight(2)}, {1, midnight(2), time.Time{}}, {2, midnight(31), midnight(20)}, {3, midnight(31), time.Time{}}} {
		if got, err := s.LastArrival(model.ID{x.site}, x.before); err != nil || !got.Equal(x.want) {
			t.Errorf("site %d before %v: %v, %v", x.site, x.before, got, err)
		}
	}
	ahead := day(20).AddDate(1, 0, 0) // the date here stood a year ahead, and nobody doubted it; then it was put right, and another clinic's stick came
	if err := s.Arrived(ahead, true, model.ID{3}); err != nil {
		t.Fatal(err)
	}
	if err := s.Arrived(day(21), true, model.ID{2}); err != nil {
		t.Fatal(err)
	}
	if got, err := s.LastArrival(model.ID{3}, ahead.AddDate(0, 0, 3)); err != nil || !got.Equal(midnight(21)) { // it was here when the other clinic's came
		t.Errorf("a year later it came %v, %v", got, err)
	}
	if got, err := s.LastArrival(model.ID{3}, midnight(21)); err != nil || !got.IsZero() {
		t.Errorf("before the other clinic's came it came %v, %v", got, err)
	}
	if err := s.Arrived(day(25), false, model.ID{1}); err != nil {
		t.Fatal(err)
	}
	if err := s.Arrived(day(27), true, model.ID{1}); err != nil {
		t.Fatal(err)
	}
	for before, want := range map[int]time.Time{5: midnight(2), 20: {}, 26: {}, 28: midnight(27)} { // of the one on the 25th nobody knows the day: it may have come on the 10th
		if got, err := s.LastArrival(model.ID{1}, midnight(before)); err != nil || !got.Equal(want) {
			t.Errorf("before the %dth, with one whose day is in doubt: %v, want %v, %v", before, got, want, err)
		}
	}
}
