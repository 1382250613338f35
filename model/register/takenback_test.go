package register

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// A comparison that was taken back vouches for nothing, also where it has not arrived itself: only what it left out of doubt, which nobody here knows, would stay out.
func TestWindowOfWhatIsNotHere(t *testing.T) {
	s := newSchedule(0)
	a := s.devices[0].author
	loads := []model.KnownUpTo{{Stream: a.Stream[:], Seq: 9}}
	few := []model.KnownUpTo{{Stream: a.Stream[:], Seq: 4}}
	says := func(c model.Compared, replaces ...entry.ID) entry.Verified {
		return s.sign(a, entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{lawGauge}, Payload: c, Replaces: replaces})
	}
	gone := says(model.Compared{WorstPa: 600, Since: few, Knew: loads})
	id := gone.ID()
	next := model.Compared{WorstPa: 12_600, Since: loads}
	w := says(next, id)
	back := says(model.Compared{Withdraws: id[:], Reason: "r"}, id)
	window := func(about ...entry.Verified) []model.KnownUpTo {
		return Window(w, next, about, TakenBack(about, func(entry.Verified) bool { return true }))
	}
	if got := window(gone, w); len(got) != 1 || got[0].Seq != 9 {
		t.Errorf("nothing was taken back: %v", got)
	}
	if got := window(gone, w, back); len(got) != 1 || got[0].Seq != 4 {
		t.Errorf("taken back: %v", got)
	}
	if got := window(w, back); len(got) != 0 {
		t.Errorf("taken back, and not here: %v", got)
	}
}
