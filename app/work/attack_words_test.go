package work_test

import (
	"bytes"
	"crypto/ed25519"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
)

// a hold on the other branch of a forked stream never reaches a device that has the longer branch.
func TestAttackForkNotSent(t *testing.T) {
	p := twoDevices(t)
	_, cycle := p.sterile(1)
	key, err := home.LoadKey(home.Disk{}, p.dir, home.DeviceKey)
	p.check(err)
	a := p.authorOf(key)
	twin := *a // a copy of the disk goes on beside the laptop
	for range 3 {
		p.check(p.d.TellStock(model.StockTape, 3, true))
	}
	p.carry(p.d, p.tablet, true)
	p.carry(p.tablet, p.d, false) // the tablet's word: it holds 3
	w, err := twin.Sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{cref(cycle)}, Payload: model.Hold{Code: "stopped", Reason: "wet"}}, p.clk.Now(), model.ClockGood)
	p.check(err)
	_, err = p.d.Store.Receive([]entry.Verified{w})
	p.check(err)
	if p.d.Store.Forked(a.Stream) == 0 {
		t.Fatal("no fork")
	}
	in := p.carry(p.d, p.tablet, false)
	ok, _ := p.tablet.Store.Has(w.ID())
	if !ok {
		u, _ := p.tablet.Usable(func() model.ID { c, _ := p.d.Cycle(cycle); return c.Begun.Packs[0].ID }())
		own, _ := p.d.Usable(func() model.ID { c, _ := p.d.Cycle(cycle); return c.Begun.Packs[0].ID }())
		t.Errorf("the hold never leaves: %v; here %s, at the tablet %s; fork known there: %d", verdicts(in), own.Word, u.Word, p.tablet.Store.Forked(a.Stream))
	}
}

// our own stream is forked: a release says that it was done.
// forged negatives of a removed device bring back a pot that grew spores, and let the loads of the bad time go.
func TestAttackForgedNegatives(t *testing.T) {
	b := desk(t)
	_, c1 := b.sterile(1)
	packs, c2 := b.sterile(1)
	a := b.gone(91)
	sp := func(cycle model.ID, number byte) {
		id := model.ID{number, 1}
		refs := []model.Ref{{Noun: model.NounTest, ID: id}, cref(cycle), {Noun: model.NounSterilizer, ID: b.pot().ID}}
		b.put(a, entry.Draft{Kind: model.KindSporePlaced, Targets: refs, Payload: model.SporePlaced{Cycle: cycle, Pot: b.pot().ID, Lot: "L", Expires: b.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true, At: b.clk.Wall.UnixMilli()}})
		b.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: refs, Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: b.clk.Wall.AddDate(0, 0, 3).UnixMilli()}})
	}
	// a forged cycle of a high number with a negative, before the growth
	far := b.d.NewID()
	c, _ := b.d.Cycle(c1)
	x := c.Begun
	x.Number, x.Packs = 1000, nil
	a.Lamport = 1
	b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{cref(far), {Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: x})
	b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(far)}, Payload: model.CycleClosed{Outcome: model.RanThrough}})
	sp(far, 1)
	_, err := b.d.ReadSpore(b.spore(c1, time.Hour, true), model.SporeRead{Grew: true})
	b.check(err)
	if s := b.state(packs[0]); s != work.ShelfHeld {
		t.Fatal(s)
	}
	a.Lamport = 100000
	for i := range 3 {
		id, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
		b.check(err)
		sp(id, byte(10+i))
	}
	err = b.d.BackToService(b.pot(), register.HoldSpore, "three negatives")
	t.Log(err)
	if err == nil {
		t.Errorf("no test was laid in by us, and the pot is back: %v; a load of the bad time is %s", b.pot().Why, b.state(packs[0]))
	}
	_ = c2
}

// B3b: own three negatives; the forged one of before only opens the loads of the bad time.
func TestAttackForgedGoodBefore(t *testing.T) {
	b := desk(t)
	_, c1 := b.sterile(1)
	packs, _ := b.sterile(1)
	a := b.gone(92)
	a.Lamport = 1
	far, id := b.d.NewID(), model.ID{9}
	c, _ := b.d.Cycle(c1)
	x := c.Begun
	x.Number, x.Packs = 1000, nil
	refs := []model.Ref{{Noun: model.NounTest, ID: id}, cref(far), {Noun: model.NounSterilizer, ID: b.pot().ID}}
	b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: refs[1:], Payload: x})
	b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(far)}, Payload: model.CycleClosed{Outcome: model.RanThrough}})
	b.put(a, entry.Draft{Kind: model.KindSporePlaced, Targets: refs, Payload: model.SporePlaced{Cycle: far, Pot: b.pot().ID, Lot: "L", Expires: b.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true, At: 1}})
	b.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: refs, Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: 49 * 3_600_000}})
	_, err := b.d.ReadSpore(b.spore(c1, time.Hour, true), model.SporeRead{Grew: true})
	b.check(err)
	for range 3 {
		id, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
		b.check(err)
		s := b.spore(id, 365*24*time.Hour, true)
		b.clk.Pass(48 * time.Hour)
		_, err = b.d.ReadSpore(s, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
		b.check(err)
	}
	b.check(b.d.BackToService(b.pot(), register.HoldSpore, "new valve, three negatives"))
	tt, _ := b.d.SporeTests(100)
	for _, x := range tt {
		t.Log(x.Said, x.Number, x.Placed.Pot == b.pot().ID, x.ReadBy.Body().Lamport)
	}
	pp, _ := b.d.Pack(packs[0])
	for _, h := range pp.Answer.Holds {
		t.Log(h.Code, h.Cleared)
	}
	if s := b.state(packs[0]); s != work.ShelfHeld {
		t.Errorf("a load of the bad time is %s", s)
	}
}

// a fork seen in the waiting room only.
func TestAttackForkInWaiting(t *testing.T) {
	b := desk(t)
	a := b.other(93, true)
	note := entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}}
	for range 4 {
		b.put(a, note)
	}
	twin := *a
	twin.Seq, twin.Head = 2, entry.ID{5}
	w, err := twin.Sign(note, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	if b.d.Store.Forked(a.Stream) == 0 {
		t.Error("two entries of number 3 are here, and the stream is not called forked")
	}
}

// hour of a policy stated elsewhere is out of bounds.
func TestAttackPolicyBounds(t *testing.T) {
	b := desk(t)
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	a := entry.NewAuthor(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{94}, 32)), b.d.Store.District())
	a.Lamport = 100000
	b.put(b.authorOf(sk), entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: a.Key(), Letter: "X", Caps: model.CapRecord | model.CapManage}})
	for _, p := range []model.Policy{{Code: model.PolicyWrapped, On: true, Value: 1, Source: "x"}, {Code: model.PolicyGap, On: true, Value: 600, Source: "x"}} {
		b.put(a, entry.Draft{Kind: model.KindPolicy, Payload: p, Targets: []model.Ref{model.PolicyRef(p.Code)}})
	}
	f := b.plan().Frozen
	if f.Minutes < 15 || f.GapMinutes > 15 || f.DoseMilli < 8000 {
		t.Errorf("minutes %d, gap %d, dose %d", f.Minutes, f.GapMinutes, f.DoseMilli)
	}
}

// two devices state a policy at once; the laxer one, with the higher counter, is in force.
func TestAttackPolicyAtOnce(t *testing.T) {
	p := twoDevices(t)
	p.check(p.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 45, Source: "letter 7"}))
	for range 3 {
		p.check(p.tablet.TellStock(model.StockTape, 3, true))
	}
	p.check(p.tablet.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 20, Source: "letter 6"}))
	p.carry(p.tablet, p.d, true)
	if m := p.plan().Frozen.Minutes; m < 45 {
		t.Errorf("stated at once 45 and 20 minutes: %d are planned", m)
	}
}

// a removed device's file, from its own stick, stops the register from opening; or a count without content clears "not found".
func TestAttackStickBricks(t *testing.T) {
	b := desk(t)
	a := b.gone(95)
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{95}, 32))
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	box, err := exchange.BoxOf(sk.Seed())
	b.check(err)
	vs, _ := b.d.Store.Last(1)
	a.Seq, a.Head = 41, vs[0].ID()
	w, err := a.Sign(entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	own, err := bundle.SignStanding(bundle.Standing{District: b.d.Store.District(), Holder: a.Stream, Counter: 1, Wall: 1}, key)
	b.check(err)
	var buf bytes.Buffer
	b.check(bundle.Write(&buf, bundle.Sender{Key: key, District: b.d.Store.District(), Wall: b.clk.Wall.UnixMilli(), Recipients: exchange.Addresses([]string{box.Address()})}, 1, 1,
		bundle.Content{Standings: []bundle.Signed{own}, Segments: bundle.Segments(42, []entry.Sealed{w.Sealed()})}))
	dir := t.TempDir()
	b.check(os.WriteFile(filepath.Join(dir, "x.MVB"), buf.Bytes(), 0o600))
	in, err := b.d.BringIn(dir)
	t.Log(verdicts(in), in.Files[0].Cause, err)
	b.check(b.d.Close())
	b.open() // it opens still
}

// not found at a count, and a record that says nothing clears it.
func TestAttackNotFoundCleared(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveStored, To: "S1"}))
	c, err := b.d.CheckShelf("S1", nil)
	b.check(err)
	b.check(b.d.SaveShelf(c))
	p, _ := b.d.Pack(packs[0])
	if !p.NotFound {
		t.Fatal("not marked")
	}
	b.put(b.gone(96), entry.Draft{Kind: model.KindShelfCount, Targets: []model.Ref{pref(packs[0])}, Payload: model.ShelfCounted{Place: "S9", At: 1}})
	if p, _ := b.d.Pack(packs[0]); !p.NotFound {
		t.Error("a removed device, and a count that did not see it: no longer missing")
	}
}

// a gauge compared by a device that may only record: the line "compare" of care is gone; valve task too.
func TestAttackCareByOthers(t *testing.T) {
	b := desk(t)
	a := b.gone(97)
	b.put(a, entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.ValveTest{Lifted: true, FoundPa: 160_000, At: 1}})
	if b.task(model.CareValve).Ever {
		t.Error("a removed device's lift counts as the pot's valve care")
	}
	if p := b.pot(); p.Out {
		t.Log(p.Why)
	}
}

// lid opened, pot proven, then the pot gets another gauge / is another pot: fine print; a cycle without test pack proves.
// the machine woke in 2015 and a person said the date: what is overdue by that date is not.
func TestAttackSaidDate(t *testing.T) {
	b := desk(t)
	f := b.good()
	_, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 1500, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	b.check(b.d.CareDone(b.pot(), model.CareSeal, "", ""))
	_, cycle := b.sterile(1)
	s := b.spore(cycle, 365*24*time.Hour, true)
	b.clk.Pass(48 * time.Hour)
	_, err = b.d.ReadSpore(s, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
	said := b.clk.Wall.AddDate(0, 0, 90)
	b.check(b.d.Close())
	b.clk.Reboot(90 * 24 * time.Hour)
	b.clk.Wall = time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC)
	b.open()
	if !b.d.AskDate() {
		t.Fatal("not asked")
	}
	b.check(b.d.AnswerDate(said))
	if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != "reference-overdue" {
		t.Errorf("the reference has been due for two months by the date that was said; compare: %q", got)
	}
	if x := b.task(model.CareSeal); !x.Due() {
		t.Errorf("the seal, done 90 days ago, is not due: %+v", x)
	}
	ls, err := b.d.Today()
	b.check(err)
	if !slices.ContainsFunc(ls, func(l work.Line) bool { return l.Code == "spore-overdue" }) {
		t.Error("spore test of 90 days ago: not overdue")
	}
}

// a pot whose gauge was compared good by mistake; two comparisons at once: the one that lowers the mark counts.
func TestAttackComparedAtOnce(t *testing.T) {
	p := twoDevices(t)
	f := p.good()
	p.carry(p.d, p.tablet, true)
	f.Points = []work.ComparePoint{{Shown: 136, True: 127}, {Shown: 57, True: 49}} // the gauge shows too much: the mark must go up
	p.check(p.d.Compare(p.pot(), p.place().Site, f))
	before := p.plan().Frozen
	for range 4 {
		p.check(p.tablet.TellStock(model.StockTape, 3, true))
	}
	pl, err := p.tablet.Place()
	p.check(err)
	f.Points = []work.ComparePoint{{Shown: 124, True: 127}, {Shown: 47, True: 49}}
	p.check(p.tablet.Compare(pl.Pots[0], pl.Site, f))
	p.carry(p.tablet, p.d, true)
	after := p.plan().Frozen
	ls, err := p.d.Today()
	p.check(err)
	if after.MarkMilli < before.MarkMilli || after.RestartMilli < before.RestartMilli {
		t.Errorf("restart %d, was %d; mark %d, was %d; Today %v", after.RestartMilli, before.RestartMilli, after.MarkMilli, before.MarkMilli, ls)
	}
}

// a pack found at the tablet to be spoilt / a hold on it by a stranger: shown.
func TestAttackSeenAfterMoved(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward 3"}))
	b.check(b.d.Stop(cycle, "wet"))
	on := func() bool { _, ok := lineOf(t, b, "stopped-out"); return ok }
	if !on() {
		t.Fatal("no line")
	}
	b.put(b.gone(99), entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveBack, At: 1}})
	if !on() {
		t.Error("a removed device said that the stopped pack came back, and Today forgets it")
	}
}
