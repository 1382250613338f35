package work_test

import (
	"bytes"
	"crypto/ed25519"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// What other devices write, on packs, tests and gauges: good news needs its authority, bad news does not.

// other is a second device; granted or not.
func (b *bench) other(n byte, grant bool) *entry.Author {
	b.t.Helper()
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	a := entry.NewAuthor(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)), b.d.Store.District())
	a.Lamport = 100000
	if grant {
		by := b.authorOf(sk)
		g := model.DeviceGrant{Site: b.place().ID, Key: a.Key(), Letter: "X", Caps: model.CapRecord}
		v, err := by.Sign(entry.Draft{Kind: model.KindDeviceGrant, Payload: g}, b.clk.Now(), model.ClockGood)
		b.check(err)
		b.check(b.d.Store.Append(v))
	}
	return a
}

// authorOf goes on with the stream of a key.
func (b *bench) authorOf(sk ed25519.PrivateKey) *entry.Author {
	by := entry.NewAuthor(sk, b.d.Store.District())
	seq, head, lam, err := b.d.Store.Resume(by.Stream)
	b.check(err)
	by.Resume(seq, head, lam)
	return by
}
func (b *bench) put(a *entry.Author, d entry.Draft) entry.Verified {
	b.t.Helper()
	v, err := a.Sign(d, b.clk.Now(), model.ClockGood)
	b.check(err)
	a.Advance(v)
	b.check(b.d.Store.Append(v))
	return v
}
func pref(id model.ID) model.Ref { return model.Ref{Noun: model.NounPack, ID: id} }

// A comparison, a valve that lifts and a description of the pot move the mark: not by a device that may only record, or was removed.
func TestOnlyAuthorityMovesTheMark(t *testing.T) {
	b := desk(t)
	mark := func() (int64, int64) {
		p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
		b.check(err)
		return p.Frozen.RestartMilli, p.Frozen.MarkMilli
	}
	restart, keep := mark()
	pot := b.pot()
	looks := pot.Gauge
	looks.ClassMilli, looks.LineMilli = 100, 1000
	bad := []entry.Draft{
		{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}},
			Payload: model.Compared{At: b.clk.Wall.UnixMilli(), Points: []model.FrozenCorrection{{AtMilli: 100_000, ErrorMilli: -40_000}}}},
		{Kind: model.KindGauge, Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}}, Payload: looks},
		{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: model.ValveTest{Lifted: true, FoundPa: 400_000}},
	}
	removed := b.other(91, true)
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	b.put(b.authorOf(sk), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: removed.Stream[:], Reason: "stolen"}})
	for who, a := range map[string]*entry.Author{"unknown": b.other(90, false), "records only": b.other(92, true), "removed": removed} {
		for _, draft := range bad {
			b.put(a, draft)
		}
		if r, k := mark(); r != restart || k != keep || b.pot().Looks.ValvePa > pot.Looks.LimitPa {
			t.Errorf("%s: restart %d is now %d, mark %d is %d, valve %d", who, restart, r, keep, k, b.pot().Looks.ValvePa)
		}
	}
}

// What an unknown device claims of tests and counts does not keep Today from opening.
func TestClaimsDoNotStopToday(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	a := b.other(99, false)
	b.put(a, entry.Draft{Kind: model.KindSporePlaced, Payload: model.SporePlaced{Cycle: cycle, Pot: b.pot().ID, Lot: "L", Expires: 1, At: 1},
		Targets: []model.Ref{{Noun: model.NounTest, ID: b.d.NewID()}}})
	b.put(a, entry.Draft{Kind: model.KindSetCounted, Payload: model.SetCounted{Pack: b.d.NewID(), Present: 1, Listed: 2}, Targets: []model.Ref{pref(b.d.NewID())}})
	if _, err := b.d.Today(); err != nil {
		t.Error(err)
	}
}

// A strip that failed elsewhere, written where nobody knew the load, or in a word of a newer version, holds the load here.
func TestStripFailedElsewhere(t *testing.T) {
	for name, payload := range map[string]any{"not reached": model.PackOpened{Strip: model.StripNot}, "a newer word": map[int]any{1: true, 2: "partly", 4: 1}} {
		b := desk(t)
		packs, cycle := b.sterile(2)
		b.put(b.other(60, true), entry.Draft{Kind: model.KindPackOpened, Targets: []model.Ref{pref(packs[0])}, Payload: payload})
		if b.state(packs[1]) != work.ShelfHeld {
			t.Errorf("%s: the sibling is %s", name, b.state(packs[1]))
		}
		if l, ok := lineOf(t, b, "held"); !ok || l.Cycle != cycle {
			t.Errorf("%s: Today does not name the load: %+v", name, l)
		}
		if r, err := b.d.Store.Check(func(int64, int64) {}); err != nil || !r.OK() {
			t.Errorf("%s: the views no longer follow from the entries: %v %v", name, r.Faults, err)
		}
		b.check(b.d.ClearHold(cref(cycle), "strip-failed", "the strips of the lot were wet"))
		if b.state(packs[1]) != work.ShelfReady {
			t.Errorf("%s, cleared: %s", name, b.state(packs[1]))
		}
	}
}

// A pack of which the making is told twice, and differently, is held: it keeps neither for the longer time nor for the shorter.
func TestWrapToldTwice(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.clk.Pass(20 * 24 * time.Hour)
	a := b.other(77, true)
	a.Lamport = 1
	b.put(a, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMade{Label: "X", Set: "x", Present: 1, Listed: 1, Wrap: model.WrapPouch, Tape: true}})
	if b.state(packs[0]) != work.ShelfHeld {
		t.Errorf("cloth, 20 days, and another device says pouch: %s", b.state(packs[0]))
	}
}

// Nothing that comes from a pot that grew spores is released; and a second growth does not bar the test cycles.
func TestPotThatGrew(t *testing.T) {
	b := desk(t)
	_, c1 := b.sterile(1)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 900, Strip: true})
	for range 2 {
		_, err := b.d.ReadSpore(b.spore(c1, time.Hour, true), model.SporeRead{Grew: true})
		b.check(err)
	}
	if err := b.d.Release(id, ""); err == nil {
		t.Error("a waiting load was released from a pot that grew spores")
	}
	b.check(b.begin(work.BeginForm{Item: model.Wrapped, Trial: true, TestPack: true, WaterML: 2600}))
}
