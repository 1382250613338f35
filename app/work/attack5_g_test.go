package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// An altitude was settled by a device that is taken out, and settled anew by another, whose stick comes last. A load names both.
func TestSettledAnswerComesLast(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	l2 := x.twin(b)
	x.carry(l2, b)
	x.carry(b, tablet)
	x.carry(b, l2)
	r := x.twin(b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	hs, err := tablet.d.Heights()
	tablet.check(err)
	tablet.check(tablet.d.SettleHeight(hs[0]))
	x.carry(tablet, l2)
	b.clk.Pass(time.Hour)
	hs, err = l2.d.Heights()
	l2.check(err)
	l2.check(l2.d.SettleHeight(hs[0]))
	x.carry(l2, b)
	b.sterile(1)
	b.zstealOne(since, tablet)
	all := b.zall()
	for s, vs := range all {
		if s != l2.own().Stream {
			_, err := r.d.Store.Receive(vs)
			r.check(err)
		}
	}
	r.tablesHold()
	_, err = r.d.Store.Receive(all[l2.own().Stream])
	r.check(err)
	was, err := r.d.Store.StoppedLoads()
	r.check(err)
	r.tablesHold()
	if now, err := r.d.Store.StoppedLoads(); err != nil || len(was) != len(now) {
		t.Errorf("made again the tables stop %d loads, before %d, %v", len(now), len(was), err)
	}
}

// Growth in a pot that ran very many loads since its last good test.
func TestGrowthAfterManyLoads(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a thousand loads")
	}
	t.Setenv("MVUKE_STATE", t.TempDir())
	b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
	b.check(demo.Large(b.dir, 1150*5, b.clk.Wall))
	b.open()
	t.Cleanup(func() { b.d.Close() })
	tests, err := b.d.SporeTests(1000)
	b.check(err)
	a := b.manager(77)
	for _, x := range tests { // none of them is good any more
		if x.Said == model.SporeNegative {
			b.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: x.ReadBy.Body().Refs(), Relies: []entry.ID{x.PlacedBy.ID()},
				Payload: model.SporeRead{Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
		}
	}
	ids, err := b.d.Store.CyclesOf(b.pot().ID, 5000)
	b.check(err)
	_, err = b.d.ReadSpore(b.spore(ids[0], zyear, true), model.SporeRead{Grew: true})
	if err != nil {
		t.Error("a growth cannot be told of:", err)
	}
}

// Very many loads fall by a comparison.
func TestManyFall(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a thousand loads")
	}
	t.Setenv("MVUKE_STATE", t.TempDir())
	b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
	b.check(demo.Large(b.dir, 1150*5, b.clk.Wall))
	b.open()
	t.Cleanup(func() { b.d.Close() })
	ref := b.reference("R", 600)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{Shown: 60, True: 50}, {Shown: 130, True: 118}}}))
	s, err := b.d.SettleDoubt(b.pot().ID, "looked")
	if err != nil || s.Called < 1024 {
		t.Fatal("they cannot be answered for:", s, err)
	}
	r := b.recallOf()
	if len(r.Loads) != s.Called {
		t.Errorf("%d called back, and %d in the recall", s.Called, len(r.Loads))
	}
}

func (b *bench) zall() map[entry.Stream][]entry.Verified {
	b.t.Helper()
	out := map[entry.Stream][]entry.Verified{}
	heads, err := b.d.Store.Heads()
	b.check(err)
	for _, h := range heads {
		if _, seen := out[h.Stream]; seen {
			continue
		}
		b.check(b.d.Store.After(h.Stream, 0, func(piece []entry.Sealed, whole bool) error {
			vs, err := entry.VerifyAll(piece)
			out[h.Stream] = append(out[h.Stream], vs...)
			return err
		}))
	}
	return out
}

func (b *bench) zstealOne(since time.Time, h house) {
	own := h.own().Stream
	b.check(b.d.RemoveDevice(own, since, "stolen that day"))
}
