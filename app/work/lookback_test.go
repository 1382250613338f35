package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// heldAt runs and releases a load whose needle stands at a figure for thirty minutes, looked at every four.
func (b *bench) heldAt(needle int64) (packs []model.ID, cycle model.ID) {
	b.t.Helper()
	packs, cycle = b.ranAt(needle)
	if g, err := b.d.Gate(cycle); err != nil || !g.Open() {
		b.t.Fatalf("%d on the dial: %v, %s %v", needle/1000, stops(g), g.Result.Verdict, g.Result.Reasons)
	}
	b.check(b.d.Release(cycle, ""))
	return packs, cycle
}

// ranAt is heldAt without the release.
func (b *bench) ranAt(needle int64) (packs []model.ID, cycle model.ID) {
	b.t.Helper()
	return b.ranLoad(demo.Packs(2, int(b.clk.Wall.Unix()%9000)), needle)
}

// ranLoad is ranAt with some packs.
func (b *bench) ranLoad(load []model.LoadPack, needle int64) (packs []model.ID, cycle model.ID) {
	b.t.Helper()
	id := b.burnt(work.BeginForm{Packs: load}, needle, 32)
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	checks, err := demo.GoodChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	c, err := b.d.Cycle(id)
	b.check(err)
	for _, x := range c.Begun.Packs {
		packs = append(packs, x.ID)
	}
	return packs, id
}

// burnt is a cycle of wrapped packs run to its end with the needle at a figure for some minutes; nobody has looked at its strip or its packs.
func (b *bench) burnt(f work.BeginForm, needle int64, minutes int) model.ID {
	b.t.Helper()
	p := b.place()
	f.Item, f.TestPack, f.WaterML, f.Fuel = model.Wrapped, true, 2600, "wood"
	id, _, err := b.d.Begin(p.Pots[0], p.Site, f)
	b.check(err)
	step := func(code model.StepCode, after int) {
		b.clk.Pass(time.Duration(after) * time.Minute)
		b.check(b.d.Step(id, code, nil))
	}
	step(model.StepLidShut, 3)
	step(model.StepLit, 2)
	step(model.StepVentStart, 17)
	step(model.StepVentEnd, 11)
	b.clk.Pass(4 * time.Minute)
	b.check(b.d.Look(id, needle*2/3, model.NoAnswer, 0))
	b.clk.Pass(4 * time.Minute)
	b.check(b.d.Look(id, needle, model.NoAnswer, 0))
	for m := 0; m < minutes; m += 4 {
		b.clk.Pass(4 * time.Minute)
		b.check(b.d.Look(id, needle, model.Stayed, 0))
	}
	step(model.StepFireDrawn, 1)
	step(model.StepSteamOut, 1)
	zero := int64(0)
	b.clk.Pass(8 * time.Minute)
	b.check(b.d.Step(id, model.StepZero, &zero))
	b.clk.Pass(3 * time.Minute)
	b.check(b.d.Step(id, model.StepOpened, &zero))
	step(model.StepDried, 30)
	step(model.StepCooled, 40)
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}))
	return id
}

// atD is Clinic D: 2,400 m, a dial of 250 kPa with lines of 2 kPa whose maker's word counts.
func atD(t *testing.T) *bench {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
	b.open()
	a := demo.Answers("en")
	a.Site.HeightM, a.Site.How, a.Site.WithinM = 2400, model.BySurvey, 10
	a.Gauge.LineMilli, a.Gauge.ClassMilli = 1000, 1000
	b.check(b.d.SetUp(a))
	b.proven()
	t.Cleanup(func() { b.d.Close() })
	return b
}

// compare lays the gauge beside a reference whose error is as small as any is counted: what it shows when the reference shows something else.
func (b *bench) compare(ps ...work.ComparePoint) {
	b.t.Helper()
	b.check(b.d.Compare(b.pot(), b.place().Site, b.form(ps...)))
}

func (b *bench) form(ps ...work.ComparePoint) work.CompareForm {
	return work.CompareForm{Cold: true, With: b.reference("R", 600), Points: ps}
}

// Case 58 (computed): at D the gauge shows 130 when the reference shows 118. Thirty minutes at 130 were 119.2 degC and at 140 were 120.8: both fall; at 142 they were 121.1 and stand. The records
// stay as they are, the new verdict beside them; all are held until somebody settles it, and those that fall are called back.
func TestCase058ReadsHigh(t *testing.T) {
	b := atD(t)
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	low, c130 := b.heldAt(131_000)
	mid, c140 := b.heldAt(140_000)
	high, c142 := b.heldAt(142_000)
	b.clk.Pass(60 * 24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 72, True: 60}, work.ComparePoint{Shown: 130, True: 118})
	for _, p := range [][]model.ID{low, mid, high} {
		if a, err := b.d.Usable(p[0]); err != nil || a.Word != register.Held {
			t.Fatalf("%s %v: a load of the window is not in doubt", a.Word, err)
		}
	}
	doubt, err := b.d.InDoubt(b.pot().ID)
	b.check(err)
	if len(doubt) != 3 {
		t.Fatalf("%d loads are in doubt", len(doubt))
	}
	for i, want := range []bool{false, false, true} {
		l := doubt[i]
		if l.Stands != want || l.Was.Verdict != model.Shown {
			t.Errorf("cycle %d: was %s, now %s, line %.2f, %v", l.Cycle.Begun.Number, l.Was.Verdict, l.Now.Verdict, l.Now.Line, l.Now.Reasons)
		}
	}
	if got := doubt[0].Now.Line; got < 141.3 || got > 141.5 { // 129.4 + 12
		t.Errorf("the needle for 121 degC is %.2f on this gauge", got)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "compared with the officer's gauge")
	b.check(err)
	if came.Stood != 1 || came.Called != 2 {
		t.Fatalf("%+v", came)
	}
	if a, _ := b.d.Usable(high[0]); a.Word != register.Usable {
		t.Errorf("what stands is %s", a.Word)
	}
	r := b.recallOf()
	if r.Why != model.RecallGauge || r.Wide || len(r.Loads) != 2 || r.Loads[0].Cycle != c130 || r.Loads[1].Cycle != c140 || r.Square(high[0]) != nil {
		t.Errorf("called back: %+v", r.Loads)
	}
	for i, patients := range []bool{true, false} { // patients only where the guaranteed F0 falls below the district's 12: it is 11.4 at 131, and at 140 shelf packs only
		if l := r.Loads[i]; l.Now == nil || l.Patients != patients {
			t.Errorf("load %d: patients listed %v, %+v", i, l.Patients, l.Now)
		}
	}
	if at := float64(r.Loads[1].Now.Level.Nominal); at < 120.7 || at > 120.9 {
		t.Errorf("140 on this gauge was %.2f degC", at)
	}
	for id, verdict := range map[model.ID]model.Verdict{c130: model.Shown, c142: model.Shown} { // the record itself is as it was
		c, err := b.d.Cycle(id)
		b.check(err)
		if j, err := b.d.Judge(c); err != nil || j.Verdict != verdict {
			t.Errorf("the record's own verdict is %s", j.Verdict)
		}
	}
}

// Case 61: the gauge was swapped; the error of the new one touches only its own cycles. Here another pot's gauge stands for the other dial.
func TestCase061AnotherGaugeIsNotTouched(t *testing.T) {
	b := atD(t)
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	old, _ := b.heldAt(135_000)
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	now, _ := b.heldAt(135_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 66, True: 60}, work.ComparePoint{Shown: 136, True: 130})
	x, _ := b.d.Usable(old[0])
	y, _ := b.d.Usable(now[0])
	if x.Word != register.Usable || y.Word != register.Held {
		t.Errorf("by the old gauge %s, by the new one %s", x.Word, y.Word)
	}
}

// A slip of a day before the comparison, typed in after it, is in doubt at once; one of a day after it is not.
func TestALateSlipIsJudgedByWhatWasFoundSince(t *testing.T) {
	b := desk(t)
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	lit := b.clk.Wall.Add(20 * time.Hour)
	b.clk.Pass(10 * 24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 62, True: 50}, work.ComparePoint{Shown: 139, True: 127})
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 50, True: 50}, work.ComparePoint{Shown: 127, True: 127}) // it was set right
	_, early := b.slip(lit, 1)
	b.clk.Pass(3 * 24 * time.Hour)
	_, after := b.slip(b.clk.Wall.Add(-24*time.Hour), 1)
	for id, want := range map[model.ID]bool{early: true, after: false} {
		c, err := b.d.Cycle(id)
		b.check(err)
		got := false
		for _, h := range c.State.Holds {
			got = got || (h.Code == register.HoldGauge && h.Open())
		}
		if got != want {
			t.Errorf("cycle %d is in doubt: %v", c.Begun.Number, got)
		}
	}
	l, err := b.d.LookBack(early)
	b.check(err)
	if l.Now.Line < 11.999+float64(l.Cycle.Begun.Plan.NeedPa)/1000 {
		t.Errorf("judged by the line %.3f, need %d", l.Now.Line, l.Cycle.Begun.Plan.NeedPa)
	}
}

// A reference gauge that fails its own check opens every comparison again that was made with it: loads that these vouched for are in doubt, and nothing is compared with it any more.
func TestAWrongReferenceOpensItsComparisonsAgain(t *testing.T) {
	b := atD(t)
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	low, _ := b.heldAt(131_000)
	high, _ := b.heldAt(142_000)
	ref := b.reference("R", 600)
	if _, err := b.d.ReferenceWrong(ref, -3); code(err) != "reference-wrong" {
		t.Error(err)
	}
	before := b.plan().Frozen.RestartMilli
	n, err := b.d.ReferenceWrong(ref, 5)
	b.check(err)
	x, _ := b.d.Usable(low[0])
	y, _ := b.d.Usable(high[0])
	if n != 1 || y.Word != x.Word {
		t.Fatalf("%d gauges; %s, %s", n, x.Word, y.Word)
	}
	if x.Word != register.Held {
		t.Error("a load that the reference vouched for is not in doubt")
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "certificate of the reference")
	b.check(err)
	if came.Stood != 1 || came.Called != 1 {
		t.Errorf("%+v", came)
	}
	if after := b.plan().Frozen.RestartMilli; after <= before {
		t.Errorf("the restart line was %d and is %d", before, after)
	}
	if err := b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{Shown: 60, True: 60}, {Shown: 130, True: 130}}}); code(err) != "reference-overdue" {
		t.Error("a wrong reference still compares:", err)
	}
}

// A load that waits and is held by nothing but a doubt stands on Today once, in the line that leads to looking back; one that is held by something else too keeps its own line.
func TestALoadInDoubtStandsOnTodayOnce(t *testing.T) {
	b := atD(t)
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	b.ranAt(140_000)
	b.compare(work.ComparePoint{Shown: 72, True: 60}, work.ComparePoint{Shown: 130, True: 118})
	lines := func() (doubt, held int) {
		t.Helper()
		all, err := b.d.Today()
		b.check(err)
		for _, l := range all {
			switch l.Code {
			case "in-doubt":
				doubt++
			case "held":
				held++
			}
		}
		return doubt, held
	}
	if doubt, held := lines(); doubt != 1 || held != 0 {
		t.Errorf("%d lines of doubt, %d of a held load", doubt, held)
	}
	ids, err := b.d.LatestCycles(1)
	b.check(err)
	b.check(b.d.Stop(ids[0], "the lid was not tight"))
	if doubt, held := lines(); doubt != 1 || held != 1 {
		t.Errorf("held for something else too: %d lines of doubt, %d of a held load", doubt, held)
	}
}
