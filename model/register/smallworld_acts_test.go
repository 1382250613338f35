package register

import (
	"fmt"
	"math/bits"
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/trust"
)

const smallKinds = 5 // release, stop, clear, strip not reached, a fact that comes late

// small is a history under way. Parts of it are masks: bit i is the i-th entry told.
type small struct {
	counted
	t               *testing.T
	partly          bool // devices may know a part only of what the others did
	longest         int
	lane, lanes     int
	district        entry.District
	base            []entry.Verified // grants
	roster          trust.Roster
	site            entry.Stream
	key             entry.ID
	grants          map[entry.Stream]entry.ID
	authors         [3]entry.Author
	did, knew       [3]uint16 // what each device did, and what it knew when it last did something
	told            []entry.Verified
	about           [][]model.Ref // what each of them counts for
	lists           map[model.Ref][]entry.Verified
	listed          uint32 // of which history and part those are
	acts            []string
	cycle, pot      model.Ref
	pack            model.Ref
	granted         map[entry.Stream]entry.ID
	never, unforked map[entry.Stream]uint64
}

func newSmall(t *testing.T) *small {
	s := newSchedule(0)
	if len(s.devices) < 3 {
		t.Fatal("the first schedule has fewer than three devices")
	}
	w := &small{counted: counted{states: map[[16]byte]bool{}}, t: t, district: s.district, base: slices.Clone(s.all), roster: s.devices[0].Roster(), site: s.site.Stream, key: s.key, grants: s.grants,
		cycle: model.Ref{Noun: model.NounCycle, ID: model.ID{1, 1}}, pot: model.Ref{Noun: model.NounSterilizer, ID: model.ID{1, 2}}, pack: model.Ref{Noun: model.NounPack, ID: model.ID{1, 3}}}
	for i := range w.authors {
		w.authors[i] = *s.devices[i].author
	}
	w.granted = newReference(w.base, w.site).granted
	s.rng = nil
	first := entry.Draft{Kind: model.KindCycleBegun, Payload: model.CycleBegun{Number: 1, Source: model.Live}, Targets: []model.Ref{w.cycle, w.pot, w.pack}}
	v, err := w.authors[0].Sign(first, model.Moment{}, model.ClockGood)
	if err != nil {
		t.Fatal(err)
	}
	w.authors[0].Advance(v)
	w.tell(v)
	w.did[0] = 1
	for i := range w.knew { // all of them heard that the load was lit
		w.knew[i] = 1
	}
	return w
}

func (w *small) tell(v entry.Verified) {
	w.told = append(w.told, v)
	w.about = append(w.about, slices.DeleteFunc(slices.Clone(v.Body().Refs()), func(r model.Ref) bool { return !Counts(v, r) }))
	w.lists, w.listed = map[model.Ref][]entry.Verified{}, 0
}

// mayKnow are the parts of what was told that a device may know when it acts next: all of it; or, of each other device, at least what it knew and as far as a stick may have brought it.
func (w *small) mayKnow(device int) []uint16 {
	all := uint16(1)<<len(w.told) - 1
	if !w.partly {
		return []uint16{all}
	}
	out := []uint16{w.knew[device] | w.did[device]}
	for other, did := range w.did {
		if other == device {
			continue
		}
		for _, known := range slices.Clone(out) {
			for more := did &^ known; more != 0; more &= more - 1 {
				known |= more & -more
				out = append(out, known)
			}
		}
	}
	return out
}

// act tells one more entry, and gives what takes it back.
func (w *small) act(device, kind int, knows uint16) (undo func()) {
	author, knew, did := w.authors[device], w.knew[device], w.did[device]
	a := &w.authors[device]
	for i, v := range w.told {
		if knows>>i&1 == 1 {
			a.Lamport = max(a.Lamport, v.Body().Lamport)
		}
	}
	v, err := a.Sign(w.draft(a, kind, w.seen(knows)), model.Moment{}, model.ClockGood)
	if err != nil {
		w.t.Fatal(err)
	}
	a.Advance(v)
	w.tell(v)
	w.acts = append(w.acts, fmt.Sprintf("%d does %d knowing %b", device, kind, knows))
	w.did[device] |= 1 << (len(w.told) - 1)
	w.knew[device] = knows
	return func() {
		w.authors[device], w.knew[device], w.did[device] = author, knew, did
		w.told, w.about, w.acts, w.listed = w.told[:len(w.told)-1], w.about[:len(w.about)-1], w.acts[:len(w.acts)-1], 0
	}
}

// draft is what somebody does by what the device knows.
func (w *small) draft(a *entry.Author, kind int, knows seen) (d entry.Draft) {
	authority := []entry.ID{w.grants[a.Stream], w.key}
	switch kind {
	case 0:
		d = entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{w.pack}, Relies: authority, Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}}
		for _, v := range knows.Targeting(w.cycle) {
			if v.Body().Kind == model.KindCycleBegun || v.Body().Kind == model.KindReadings {
				d.Relies = append(d.Relies, v.ID())
			}
		}
	case 1:
		d = entry.Draft{Kind: model.KindHold, Targets: []model.Ref{w.pack}, Payload: model.Hold{Code: "stopped"}}
	case 2:
		d = entry.Draft{Kind: model.KindClear, Targets: []model.Ref{w.pack, w.cycle}, Relies: authority, Payload: model.Clear{Reason: "r"}}
		for _, ref := range d.Targets {
			for _, h := range Of(knows, ref).Holds {
				d.Clears = append(d.Clears, h.ID)
			}
		}
	case 3:
		d = entry.Draft{Kind: model.KindWitness, Targets: []model.Ref{w.cycle}, Payload: model.Witness{}}
	case 4:
		d = entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{w.cycle}, Payload: model.Readings{}}
	}
	d.Person = model.ID{1}
	return d
}

// seen is a register in which a part of a history has arrived; it is a Source.
type seen struct {
	*small
	part uint16
}

func (w *small) seen(part uint16) seen { return seen{w, part} }

func (s seen) heard(yes func(entry.Verified) bool) (out []entry.Verified) {
	for i, v := range s.told {
		if s.part>>i&1 == 1 && yes(v) {
			out = append(out, v)
		}
	}
	return out
}

func (s seen) Targeting(ref model.Ref) []entry.Verified {
	if at := uint32(s.part)<<8 | uint32(len(s.told)); at != s.listed {
		clear(s.lists)
		s.listed = at
	}
	out, ok := s.lists[ref]
	if !ok {
		for i, v := range s.told {
			if s.part>>i&1 == 1 && slices.Contains(s.about[i], ref) {
				out = append(out, v)
			}
		}
		s.lists[ref] = out
	}
	return out
}

func (s seen) Entry(id entry.ID) (v entry.Verified, ok bool) {
	for _, v := range s.base {
		if v.ID() == id {
			return v, true
		}
	}
	for _, v := range s.heard(func(v entry.Verified) bool { return v.ID() == id }) {
		return v, true
	}
	return v, false
}

func (s seen) Amending(entry.ID) []entry.Verified { return nil }
func (s seen) Roster() trust.Roster               { return s.roster }

// reference is the independent model's view of the same part.
func (w *small) reference(s seen) *reference {
	all := make([]entry.Verified, 0, len(w.base)+bits.OnesCount16(s.part))
	all = append(append(all, w.base...), s.heard(func(entry.Verified) bool { return true })...)
	return &reference{all: all, site: w.site, granted: w.granted, cut: w.never, fork: w.unforked}
}
