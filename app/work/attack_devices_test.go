package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// gone is a device that was certified and then removed, with nothing of it accepted.
func (b *bench) gone(n byte) *entry.Author {
	b.t.Helper()
	a := b.other(n, true)
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	b.put(b.authorOf(sk), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: a.Stream[:], Reason: "stolen"}})
	return a
}

func cref(id model.ID) model.Ref { return model.Ref{Noun: model.NounCycle, ID: id} }

// a stolen, removed device tells the first entry of a failed cycle anew, with an older counter and an easier plan: the load is released.
func TestAttackPlanRewritten(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, FireDies: true})
	if g.Result.Verdict != model.Failed {
		t.Fatal(g.Result.Verdict)
	}
	c, _ := b.d.Cycle(id)
	x := c.Begun
	x.Plan.RestartMilli, x.Plan.Minutes, x.Plan.MarkMilli = 20_000, 5, 30_000
	x.Plan.DoseMilli = 0
	a := b.gone(71)
	a.Lamport = 1
	b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: c.Entry.Body().Refs(), Payload: x})
	g, err := b.d.Gate(id)
	b.check(err)
	if g.Result.Verdict != model.Failed {
		t.Errorf("the failed load is now %s, restart line %d; stops %v %v", g.Result.Verdict, g.Cycle.Begun.Plan.RestartMilli, stops(g), g.Result.Reasons)
	}
	err = b.d.Release(id, "")
	if w := word(b, id); w == register.Usable {
		t.Errorf("a pack of a failed load is %s (release: %v)", w, err)
	}
}

// cycles of a removed device prove a pot.
func TestAttackRemovedProves(t *testing.T) {
	for _, who := range []string{"removed", "waiting"} {
		b := desk(t)
		b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "test"}))
		id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
		c, _ := b.d.Cycle(id)
		var a *entry.Author
		if who == "removed" {
			a = b.gone(72)
		} else {
			a = b.other(72, true)
			a.Seq, a.Head = 7, entry.ID{1}
		}
		for range 2 {
			nid := b.d.NewID()
			for _, v := range c.State.Entries {
				var refs []model.Ref
				for _, r := range v.Body().Refs() {
					if r.Noun == model.NounCycle {
						r.ID = nid
					}
					if r.Noun != model.NounPack {
						refs = append(refs, r)
					}
				}
				d := entry.Draft{Kind: v.Body().Kind, Targets: refs, Payload: v.Body().Payload}
				if who == "removed" {
					b.put(a, d)
				} else {
					w, err := a.Sign(d, b.clk.Now(), model.ClockGood)
					b.check(err)
					a.Advance(w)
					_, err = b.d.Store.Receive([]entry.Verified{w})
					b.check(err)
				}
			}
		}
		p, err := b.d.Proven(b.pot().ID)
		b.check(err)
		if p.Good > 1 {
			t.Errorf("%s: %+v: cycles of a device that may not speak for the good prove the pot; gate %s", who, p, code(b.d.Release(id, "")))
		}
	}
}

// loads that were rejected, held or whose strip failed at the bedside prove a pot.
func TestAttackBadCyclesProve(t *testing.T) {
	b := desk(t)
	var first model.ID
	for i := range 3 {
		id, _ := b.cycle(demo.Burn{Packs: 3, First: 1 + 10*i, Strip: true})
		c, _ := b.d.Cycle(id)
		switch i {
		case 0:
			b.check(b.d.Reject(id, "the strip was misread: it had not turned"))
		case 1: // bad strip at bedside
			b.check(b.d.OpenPack(c.Begun.Packs[0].ID, work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true}))
		case 2:
			b.check(b.d.Report(work.IncidentForm{Code: model.BoiledDry, Cycle: id, Text: "boiled dry"}))
		}
		first = id
	}
	_ = first
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "test"}))
	p, err := b.d.Proven(b.pot().ID)
	b.check(err)
	if p.Good > 0 {
		t.Errorf("rejected, strip failed, boiled dry: %+v", p)
	}
}

// a removed device tells another number for a held pack's neighbour: scanning the held pack's number finds the good one.
func TestAttackNumberSwapped(t *testing.T) {
	b := desk(t)
	good, _ := b.sterile(1)
	bad, cycle := b.sterile(1)
	b.check(b.d.Reject(cycle, "wet")) // may refuse
	pb, _ := b.d.Pack(bad[0])
	pg, _ := b.d.Pack(good[0])
	number := pb.Label
	a := b.gone(73)
	a.Lamport = 1
	mb, mg := *pb.Made, *pg.Made
	mb.Label, mg.Label = "NDV-Z9999", number
	b.put(a, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{pref(bad[0])}, Payload: mb})
	a.Lamport = 1
	b.put(a, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{pref(good[0])}, Payload: mg})
	ids, err := b.d.ByNumber(number)
	b.check(err)
	for _, id := range ids {
		if s := b.state(id); s.Good() {
			t.Errorf("the number of a rejected pack (%s) finds a pack that is %s; rejected is now called %s", number, s, func() string { p, _ := b.d.Pack(bad[0]); return p.Label }())
		}
	}
}

// missing piece.
func TestAttackMissingPiece(t *testing.T) {
	missing := func(b *bench) bool {
		ls, err := b.d.Today()
		b.check(err)
		return slices.ContainsFunc(ls, func(l work.Line) bool { return l.Code == "piece-missing" })
	}
	for _, how := range []string{"removed says all there", "concurrent worse count", "removed PackMade fewer"} {
		b := desk(t)
		packs, _ := b.sterile(1)
		if how == "removed PackMade fewer" {
			p, _ := b.d.Pack(packs[0])
			t.Log("made", p.Made.Present)
		}
		b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "123"}))
		p, _ := b.d.Pack(packs[0])
		n := p.ToComeBack()
		switch how {
		case "removed says all there":
			b.check(b.d.CountBack(packs[0], model.SetCounted{Present: n - 1, Listed: n}))
			if !missing(b) {
				t.Fatal("no line")
			}
			a := b.gone(74)
			b.put(a, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{pref(packs[0])}, Payload: model.SetCounted{Pack: packs[0], Present: n, Listed: n, At: 1}})
		case "concurrent worse count": // counted on the tablet, offline, a moment before ours: one is missing
			a := b.other(74, true)
			a.Lamport = 3
			b.check(b.d.CountBack(packs[0], model.SetCounted{Present: n, Listed: n}))
			b.put(a, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{pref(packs[0])}, Payload: model.SetCounted{Pack: packs[0], Present: n - 1, Listed: n, At: 1}})
		default:
			continue
		}
		if !missing(b) {
			t.Errorf("%s: the line of the missing piece is gone from Today", how)
		}
	}
}

// care gate.
func TestAttackBoiledDryGate(t *testing.T) {
	for _, how := range []string{"removed device did it", "earlier close", "done before with a far counter", "ten slips", "policy off"} {
		b := desk(t)
		a := b.gone(75)
		if how == "done before with a far counter" {
			a = b.other(76, true)
			a.Lamport = 1 << 40
			for _, x := range []model.CareTask{model.CareSeal, model.CarePlug} {
				b.put(a, entry.Draft{Kind: model.KindCareDone, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.CareDone{Task: x, At: 1}})
			}
		}
		id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
		b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
		light := func() string {
			_, _, err := b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
			return code(err)
		}
		switch how {
		case "removed device did it":
			for _, x := range []model.CareTask{model.CareSeal, model.CarePlug} {
				b.put(a, entry.Draft{Kind: model.KindCareDone, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.CareDone{Task: x, At: 1}})
			}
		case "earlier close":
			a.Lamport = 1
			b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(id)}, Payload: model.CycleClosed{Outcome: model.Aborted, Reason: "x"}})
			a.Lamport = 1 << 40
			b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(id)}, Payload: model.CycleClosed{Outcome: model.Aborted, Reason: "x"}})
		case "ten slips":
			for i := range 10 {
				low := int64(130_000)
				var looks []work.SlipLook
				for m := 40.0; m <= 80; m += 4 {
					looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
				}
				_, err := b.d.TypeIn(b.pot(), b.place().Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 100+i), WaterML: 2600}, Lit: b.clk.Wall.Add(-time.Duration(100+5*i) * time.Hour),
					VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
				b.check(err)
			}
		case "policy off":
			for _, x := range []model.CareTask{model.CareSeal, model.CarePlug} {
				b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCare(x), Source: "we look each week without being told"}))
			}
		}
		if got := light(); got != "care-first" {
			t.Errorf("%s: a pot that boiled dry is lit: %q", how, got)
		}
	}
}

// a device that may only record restates the reference gauge.
func TestAttackReferenceRestated(t *testing.T) {
	b := desk(t)
	f := b.good()
	_, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 6000, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	b.clk.Pass(40 * 24 * time.Hour)
	if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != "reference-overdue" {
		t.Fatal(got)
	}
	a := b.other(77, true)
	var old []entry.ID
	vs, _ := b.d.Store.ByKind(model.KindReference)
	for _, v := range vs {
		old = append(old, v.ID())
	}
	b.put(a, entry.Draft{Kind: model.KindReference, Replaces: old, Targets: []model.Ref{{Noun: model.NounReference, ID: f.With}},
		Payload: model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 1, Certificate: "C-1", Due: b.clk.Wall.AddDate(50, 0, 0).UnixMilli()}})
	before, _ := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	if err := b.d.Compare(b.pot(), b.place().Site, f); err == nil {
		p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
		b.check(err)
		t.Errorf("compared with a reference that is overdue: its error is now %v kPa, the mark %d (was %d)", p.Gauge.ReferenceError, p.Frozen.MarkMilli, before.Frozen.MarkMilli)
	}
}

// putting right the gauge's lines settles a dispute about the altitude.
func TestAttackCorrectSettlesHeights(t *testing.T) {
	b := desk(t)
	_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 2250})
	b.check(err)
	before := b.plan()
	a := demo.Answers("en")
	a.Gauge.LineMilli = 5_000 // the slip of the finger
	a.Gauge = b.pot().Gauge
	a.Gauge.Serial = "2208"
	a.Site, a.Pot = b.place().Site, b.pot().Looks
	b.check(b.d.Correct(b.pot(), b.place(), a))
	after := b.plan()
	ls, err := b.d.Today()
	b.check(err)
	if after.Frozen.MarkMilli < before.Frozen.MarkMilli || !slices.ContainsFunc(ls, func(l work.Line) bool { return l.Code == "heights" }) {
		t.Errorf("mark %d, was %d; restart %d, was %d; heights on Today: gone", after.Frozen.MarkMilli, before.Frozen.MarkMilli, after.Frozen.RestartMilli, before.Frozen.RestartMilli)
	}
}

// laptop and tablet state the site / the gauge at once; after the stick the lower one makes the mark.
// the valve's setting climbs by a tenth with each lift; a device that may only record sets it.
func TestAttackValveRatchet(t *testing.T) {
	b := desk(t)
	a := demo.Answers("en")
	a.Site, a.Pot, a.Gauge = b.place().Site, b.pot().Looks, b.pot().Gauge
	a.Pot.LimitPa, a.Pot.ValvePa = 0, 150_000
	b.check(b.d.Correct(b.pot(), b.place(), a))
	for range 6 {
		v := b.pot().Looks.ValvePa
		n := min(v/100*109, 248_000)
		if err := b.d.LiftValve(b.pot(), true, n); err != nil {
			t.Log(err)
		}
	}
	if v := b.pot().Looks.ValvePa; v > 165_000 {
		t.Errorf("the plate says 150 kPa; by lifts of nine per cent the limit is now %d Pa", v)
	}
	b = desk(t)
	b.check(b.d.Correct(b.pot(), b.place(), a))
	b.put(b.other(78, true), entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.ValveTest{Lifted: true, FoundPa: 400_000}})
	if v := b.pot().Looks.ValvePa; v > 165_000 {
		t.Errorf("records only: the limit is %d Pa", v)
	}
}

// an entry that follows on another stream's, far up, is taken and the register does not open again.
func TestAttackGapBricks(t *testing.T) {
	b := desk(t)
	a := b.other(79, false)
	vs, _ := b.d.Store.Last(1)
	a.Seq, a.Head = 41, vs[0].ID()
	w, err := a.Sign(entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	r, err := b.d.Store.Receive([]entry.Verified{w})
	t.Log(len(r.Taken), r.Waiting, err)
	b.check(b.d.Close())
	b.open() // it opens still
}

// bad news that waits: a judged correction, and a removal.
func TestAttackWaitingBadNews(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(1)
	c, _ := b.d.Cycle(cycle)
	var readings entry.ID
	for _, v := range c.State.Entries {
		if v.Body().Kind == model.KindReadings {
			readings = v.ID()
		}
	}
	am := entry.Draft{Kind: model.KindAmended, Targets: []model.Ref{cref(cycle)}, Replaces: []entry.ID{readings}, Payload: model.Amended{Judged: true, Reason: "it was another pot's dial"}}
	a := b.other(80, true)
	a.Seq, a.Head = 7, entry.ID{9}
	w, err := a.Sign(am, b.clk.Now(), model.ClockGood)
	b.check(err)
	r, err := b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	if s := b.state(packs[0]); s.Good() {
		t.Errorf("a reading was corrected by an entry that waits (%d), and the pack is %s", r.Waiting, s)
	}
	b2 := desk(t)
	packs, _ = b2.sterile(1)
	b2.put(b2.other(81, true), am)
	_ = packs
	b3 := desk(t)
	pk, cy := b3.sterile(1)
	c, _ = b3.d.Cycle(cy)
	for _, v := range c.State.Entries {
		if v.Body().Kind == model.KindReadings {
			am.Replaces[0] = v.ID()
		}
	}
	am.Targets[0] = cref(cy)
	b3.put(b3.other(81, true), am)
	t.Log("the same, in its place:", b3.state(pk[0]))
}

func TestAttackWaitingRemoval(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	c, _ := b.d.Pack(packs[0])
	own := c.Cycle.Released[0].Body().Stream
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	by := b.authorOf(sk)
	by.Seq, by.Head = by.Seq+1, entry.ID{7}
	w, err := by.Sign(entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: own[:], Seq: 1, Reason: "stolen"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	if s := b.state(packs[0]); s.Good() {
		t.Errorf("the device that released it was removed by an entry that waits; the pack is %s", s)
	}
}

// the waiting room's file is damaged or gone.
// the counter runs over.
