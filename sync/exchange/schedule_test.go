package exchange

import (
	"math/rand/v2"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/bundle"
)

// step is one thing that happens to devices that never meet: an act, a stick written, a stick brought in, late, twice, in another order, or lost.
func (d *district) step(rng *rand.Rand, sticks *[]File) {
	x := d.devices[rng.IntN(len(d.devices))]
	switch n := rng.IntN(10); {
	case n < 4:
		x.act(d, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{packOf(rng.IntN(8))}, Payload: model.PackMoved{What: model.MoveStored, To: "A"}})
	case n < 5:
		x.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{packOf(rng.IntN(8))}, Payload: model.Hold{Code: "stopped", Reason: "x"}})
	case n < 7:
		*sticks = append(*sticks, d.out(x, rng.IntN(4) == 0, d.devices[rng.IntN(len(d.devices))])...)
	case len(*sticks) > 0:
		i := rng.IntN(len(*sticks))
		if r := d.in(x, (*sticks)[i]); r.Verdict != New && r.Verdict != Have {
			d.t.Fatalf("%s: %v", r.Verdict, r.Cause)
		}
		if rng.IntN(3) == 0 { // this stick is never seen again
			*sticks = append((*sticks)[:i], (*sticks)[i+1:]...)
		}
	}
}

// settle lets everybody meet everybody until nothing is new.
func (d *district) settle() {
	for round := 0; ; round++ {
		news := 0
		for _, from := range d.devices {
			for _, to := range d.devices {
				if from == to {
					continue
				}
				for _, f := range d.out(from, false, to) {
					news += len(d.in(to, f).New)
				}
			}
		}
		if news == 0 {
			return
		}
		if round > 4 {
			d.t.Fatal("they never come to rest")
		}
	}
}

// Whatever the schedule, when everybody has met everybody all show the same, nothing waits, every hold is everywhere, and nobody was asked to send anything
// twice by a stick that was lost.
func TestSchedulesEndAlike(t *testing.T) {
	schedules := 60
	if testing.Short() {
		schedules = 10
	}
	for s := range uint64(schedules) {
		rng := rand.New(rand.NewPCG(s, 11))
		d := newDistrict(t, 2+rng.IntN(5))
		var sticks []File
		for range 40 {
			d.step(rng, &sticks)
		}
		d.settle()
		want := d.devices[0].digest()
		entries := len(d.devices[0].byID)
		for i, x := range d.devices {
			if x.digest() != want || len(x.byID) != entries || len(x.waiting) > 0 {
				t.Fatalf("schedule %d: %s holds %d of %d entries, %d wait, and shows another state", s, name(i), len(x.byID), entries, len(x.waiting))
			}
		}
		for i := range 8 {
			for _, h := range register.Of(d.devices[0].set, packOf(i)).Holds {
				for _, x := range d.devices {
					if !x.byID[h.Cause.ID()] {
						t.Fatalf("schedule %d: a hold is missing somewhere", s)
					}
				}
			}
		}
	}
}

// A sender that was never certified is not listened to, and a file of another district is not mixed in.
func TestStrangersAreNotMixedIn(t *testing.T) {
	d := newDistrict(t, 2)
	a, b := d.devices[0], d.devices[1]
	stranger := &device{memory: newMemory(a.d), author: entry.NewAuthor(seed(9, 9), a.d), key: seed(9, 9)}
	stranger.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{packOf(1)}, Payload: model.Hold{Code: "stopped", Reason: "x"}})
	before := len(b.byID)
	if r := d.in(b, d.out(stranger, true)[0]); r.Verdict != Stranger || len(b.byID) != before {
		t.Errorf("%s, %d entries", r.Verdict, len(b.byID)-before)
	}
	other := newDistrict(t, 1)
	x := other.devices[0]
	x.d = entry.District{7}
	files := d.out(x, true)
	if r := d.in(b, files[0]); r.Verdict != Foreign || len(b.byID) != before {
		t.Errorf("%s, %d entries, %v", r.Verdict, len(b.byID)-before, r.Cause)
	}
}

// An entry that was tampered with inside a whole, signed file is found before anything of the file is applied.
func TestNothingOfAFileWithABadEntryIsApplied(t *testing.T) {
	d := newDistrict(t, 2)
	a, b := d.devices[0], d.devices[1]
	for i := range 5 {
		a.act(d, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{packOf(i)}, Payload: model.PackMoved{What: model.MoveStored, To: "A"}})
	}
	var sealed []entry.Sealed
	if err := a.After(a.author.Stream, 0, func(p []entry.Sealed, _ bool) error { sealed = append(sealed, p...); return nil }); err != nil {
		t.Fatal(err)
	}
	sealed[4].Sig = append([]byte{}, sealed[4].Sig...)
	sealed[4].Sig[3] ^= 1
	file := writtenFile(t, bundle.Sender{District: a.d, Key: a.key, Recipients: Addresses([]string{d.box.Address()}), ID: [16]byte{8}}, bundle.Content{Segments: bundle.Segments(1, sealed)})
	before := len(b.byID)
	if r := In(b, file, d.box.Identity()); r.Verdict != Verdict(bundle.Malformed) || len(b.byID) != before {
		t.Errorf("%s, %d entries applied", r.Verdict, len(b.byID)-before)
	}
}

// A copied device: the first register that meets both branches has both, and a later exchange brings both everywhere.
func TestForksTravel(t *testing.T) {
	d := newDistrict(t, 3)
	a, b, c := d.devices[0], d.devices[1], d.devices[2]
	a.act(d, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{packOf(0)}, Payload: model.PackMoved{What: model.MoveStored, To: "A"}})
	clone := &device{memory: newMemory(a.d), author: entry.NewAuthor(a.key, a.d), key: a.key, at: model.Moment{Elapsed: 99}}
	if _, err := clone.Receive(a.set.All(), nil); err != nil {
		t.Fatal(err)
	}
	*clone.author = *a.author
	a.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{packOf(1)}, Payload: model.Hold{Code: "stopped", Reason: "one"}})
	clone.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{packOf(2)}, Payload: model.Hold{Code: "stopped", Reason: "two"}})
	for _, f := range append(d.out(a, false, b), d.out(clone, false, b)...) {
		d.in(b, f)
	}
	d.in(c, d.out(b, false, c)[0])
	for i, x := range []*device{b, c} {
		for _, p := range []int{1, 2} {
			if len(register.Of(x.set, packOf(p)).Holds) != 1 {
				t.Errorf("%s lacks a branch's hold on pack %d", name(i), p)
			}
		}
		heads, _ := x.Heads()
		n := 0
		for _, h := range heads {
			if h.Stream == a.author.Stream {
				n++
			}
		}
		if n != 2 {
			t.Errorf("%s: %d heads of the copied device", name(i), n)
		}
	}
	d.in(a, d.out(c, false, a)[0]) // and the original learns of its copy
	if len(register.Of(a.set, packOf(2)).Holds) != 1 {
		t.Error("the original does not know what its copy wrote")
	}
}
