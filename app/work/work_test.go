package work_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
)

type bench struct {
	t   *testing.T
	dir string
	clk *demo.Clock
	d   *work.Desk
}

func desk(t *testing.T) *bench {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))}
	b.open()
	if err := b.d.SetUp(demo.Answers("en")); err != nil {
		t.Fatal(err)
	}
	b.proven()
	t.Cleanup(func() { b.d.Close() })
	return b
}

// proven lets the pot off its three good cycles: tests of these begin without it.
func (b *bench) proven() {
	b.t.Helper()
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "test: proven before the register began"}))
}

func (b *bench) open() {
	b.t.Helper()
	d, err := work.Open(b.dir, work.Options{Clock: b.clk})
	if err != nil {
		b.t.Fatal(err)
	}
	b.d = d
	if people, _ := d.People(); len(people) > 0 {
		d.Act(people[0].ID)
	}
}

func (b *bench) check(err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
}

func (b *bench) cycle(x demo.Burn) (model.ID, work.Gate) {
	b.t.Helper()
	id, err := demo.Cycle(b.d, b.clk, x)
	b.check(err)
	if x.StopAfter > 0 {
		return id, work.Gate{}
	}
	checks, err := demo.GoodChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	g, err := b.d.Gate(id)
	b.check(err)
	return id, g
}

func (b *bench) place() work.Place {
	p, err := b.d.Place()
	b.check(err)
	return p
}

func code(err error) string {
	var r *work.Refusal
	if errors.As(err, &r) {
		return r.Code
	}
	return ""
}

func stops(g work.Gate) (out []string) {
	for _, s := range g.Stops {
		out = append(out, s.Code)
	}
	return out
}

func word(b *bench, id model.ID) register.Word {
	c, err := b.d.Cycle(id)
	b.check(err)
	a, err := b.d.Usable(c.Begun.Packs[0].ID)
	b.check(err)
	return a.Word
}

func TestOneGoodCycle(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 4, First: 1, Strip: true})
	if g.Result.Verdict != model.Shown || !g.Open() {
		t.Fatalf("%s %v stops %v; plan %+v", g.Result.Verdict, g.Result.Reasons, stops(g), g.Cycle.Begun.Plan)
	}
	if word(b, id) != register.NotReleased {
		t.Error("usable before its release")
	}
	b.check(b.d.Release(id, ""))
	if word(b, id) != register.Usable {
		t.Error("not usable after its release")
	}
	c, _ := b.d.Cycle(id)
	var r model.Release
	if c.Released[0].Body().Decode(&r) != nil || !r.SamePerson {
		t.Error("case 90: one person loaded and released; it must be marked")
	}
	r2, err := b.d.Store.Check(nil)
	if err != nil || !r2.OK() {
		t.Errorf("%+v %v", r2, err)
	}
}

func TestCase022FailedCannotBeReleased(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 3, First: 1, Strip: true, FireDies: true})
	if g.Result.Verdict != model.Failed || code(b.d.Release(id, "I insist")) != "gate.failed" {
		t.Fatalf("%s %v", g.Result.Verdict, b.d.Release(id, "I insist"))
	}
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "test"}))
	if c := code(b.d.Release(id, "I insist")); c != "gate.failed" {
		t.Error("a policy lifted a failure:", c)
	}
	b.check(b.d.Reject(id, "readings"))
	if word(b, id) != register.Held {
		t.Error(word(b, id))
	}
}

func TestCase025NotKnownOnlyByNameUnderPolicy(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 3, First: 1, Strip: true, LooksAway: true})
	if g.Result.Verdict != model.NotKnown || code(b.d.Release(id, "the needle was fine")) != "gate.not-known" {
		t.Fatalf("%s %v", g.Result.Verdict, g.Result.Reasons)
	}
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "district letter 4"}))
	if c := code(b.d.Release(id, " ")); c != "reason-missing" {
		t.Error(c)
	}
	b.check(b.d.Release(id, "watched from the door"))
	c, _ := b.d.Cycle(id)
	a, err := b.d.Usable(c.Begun.Packs[0].ID)
	if err != nil || a.Word != register.Usable || !a.Override {
		t.Errorf("%+v %v", a, err)
	}
}

func TestCase029BatteryDies(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 3, First: 1, StopAfter: 12})
	before, _ := b.d.Cycle(id)
	b.check(b.d.Close())
	b.clk.Reboot(9 * time.Minute)
	b.open()
	woken, err := b.d.Wake()
	if err != nil || woken != id {
		t.Fatal(woken, err)
	}
	c, _ := b.d.Cycle(id)
	if len(c.Readings) != len(before.Readings) || len(c.Steps) != len(before.Steps) || len(c.Breaks) != 1 {
		t.Fatalf("%d readings of %d, %d breaks", len(c.Readings), len(before.Readings), len(c.Breaks))
	}
	if d := c.Breaks[0].To - c.Breaks[0].From; d < 8*60000 || d > 10*60000 {
		t.Errorf("the gap is %d ms", d)
	}
	b.check(b.d.Look(id, c.Begun.Plan.MarkMilli, model.LookedAway, 0))
	c, _ = b.d.Cycle(id)
	r, _ := b.d.Judge(c)
	before029, _ := b.d.Judge(before)
	if r.Held != before029.Held { // no clock can prove how long another run of the machine was away
		t.Errorf("held %.1f, was %.1f", r.Held, before029.Held)
	}
	if !slices.ContainsFunc(r.Reasons, func(x model.Reason) bool { return x.Code == assess.Interrupted }) {
		t.Error("the interruption is not told")
	}
	// a longer gap is not credited
	b.check(b.d.Close())
	b.clk.Reboot(25 * time.Minute)
	b.open()
	b.d.Wake()
	b.check(b.d.Look(id, c.Begun.Plan.MarkMilli, model.Stayed, 0))
	c, _ = b.d.Cycle(id)
	if again, _ := b.d.Judge(c); again.Held != r.Held {
		t.Errorf("held %.1f over a gap of 25 minutes", again.Held)
	}
}

func TestCase029ClockResetInTheGapCreditsNothing(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 3, First: 1, StopAfter: 12})
	c, _ := b.d.Cycle(id)
	r, _ := b.d.Judge(c)
	b.check(b.d.Close())
	b.clk.Reboot(time.Minute)
	b.clk.Wall = time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC)
	b.open()
	if !b.d.AskDate() {
		t.Fatal("case 86: the date of 2015 is not asked about")
	}
	b.check(b.d.AnswerDate(time.Time{}))
	b.check(b.d.Look(id, c.Begun.Plan.MarkMilli, model.Stayed, 0))
	c, _ = b.d.Cycle(id)
	if after, _ := b.d.Judge(c); after.Held > r.Held {
		t.Errorf("held %.1f, was %.1f", after.Held, r.Held)
	}
}

func TestCase031PaperSlip(t *testing.T) {
	b := desk(t)
	p := b.place()
	looks := []work.SlipLook{}
	for m := 40.0; m <= 80; m += 4 {
		low := int64(130_000)
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(3, 1), WaterML: 2600}, Lit: b.clk.Wall.Add(-72 * time.Hour),
		VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
	id, err := b.d.TypeIn(p.Pots[0], p.Site, s)
	b.check(err)
	c, _ := b.d.Cycle(id)
	r, err := b.d.Judge(c)
	b.check(err)
	if r.Verdict != model.Shown || !c.Paper || c.Begun.Source != model.FromPaper {
		t.Errorf("%s %v", r.Verdict, r.Reasons)
	}
	if c.Begun.Begun != s.Lit.UnixMilli() || c.Entry.Body().Wall != b.clk.Wall.UnixMilli() {
		t.Error("both dates must be kept")
	}
	s.Looks[3].Minute = 12
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, s); code(err) != "time-backwards" {
		t.Error(err)
	}
	s.Looks[3].Minute = 52
	s.Lit = b.clk.Wall.Add(time.Hour)
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, s); code(err) != "slip-in-future" {
		t.Error(err)
	}
}

func TestCase032Aborted(t *testing.T) {
	b := desk(t)
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 1), WaterML: 2600})
	b.check(err)
	b.clk.Pass(30 * time.Minute)
	b.check(b.d.Look(id, 80_000, model.NoAnswer, 0))
	if c := code(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted})); c != "reason-missing" {
		t.Error(c)
	}
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "no more wood"}))
	c, _ := b.d.Cycle(id)
	if c.Closed.ReachedMark || word(b, id) != register.Held {
		t.Errorf("%+v %s", c.Closed, word(b, id))
	}
	if g, _ := b.d.Gate(id); !slices.Contains(stops(g), "aborted") {
		t.Error(stops(g))
	}
	next, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 11), WaterML: 2600})
	b.check(err)
	if n, _ := b.d.Cycle(next); n.Begun.Number != c.Begun.Number+1 {
		t.Error("the number of an aborted cycle was used again")
	}
}

func TestCase033WetPacks(t *testing.T) {
	b := desk(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 6, First: 1, Strip: true})
	b.check(err)
	checks, _ := demo.GoodChecks(b.d, id)
	checks[1].Dry, checks[4].Dry = false, false
	if c := code(b.d.Unload(id, checks, false)); c != "not-cool" {
		t.Error(c)
	}
	b.check(b.d.Unload(id, checks, true))
	g, _ := b.d.Gate(id)
	if len(g.Bad) != 2 || !slices.Contains(stops(g), "hold") {
		t.Fatalf("%d bad, stops %v", len(g.Bad), stops(g))
	}
	if err := b.d.Release(id, ""); err == nil {
		t.Fatal("a wet load was released")
	}
	b.check(b.d.ClearHold(cref(id), register.HoldWetLoad, "condensate from the lid, four packs felt inside"))
	b.check(b.d.Release(id, ""))
	c, _ := b.d.Cycle(id)
	for i, p := range c.Begun.Packs {
		a, _ := b.d.Usable(p.ID)
		if want := i != 1 && i != 4; (a.Word == register.Usable) != want {
			t.Errorf("pack %d is %s", i, a.Word)
		}
	}
}

func TestCase034StripNotReached(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 3, First: 1, Strip: false})
	if !slices.Contains(stops(g), "hold") || g.Open() {
		t.Fatal(stops(g))
	}
	if err := b.d.Release(id, "all tapes dark"); err == nil {
		t.Fatal("passed by tape")
	}
	// a second strip that did turn does not make the first one good
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	if err := b.d.Release(id, "second strip"); err == nil {
		t.Fatal("a later good strip freed the load")
	}
}

func TestNoWitnessNoRelease(t *testing.T) {
	b := desk(t)
	p := b.place()
	looks := []work.SlipLook{}
	for m := 40.0; m <= 80; m += 4 {
		low := int64(135_000)
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	id, err := b.d.TypeIn(p.Pots[0], p.Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), TestPack: true, WaterML: 2600},
		Lit: b.clk.Wall.Add(-5 * time.Hour), VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
	b.check(err)
	checks, _ := demo.GoodChecks(b.d, id)
	b.check(b.d.Unload(id, checks, true))
	if c := code(b.d.Release(id, "")); c != "gate.no-witness" {
		t.Error(c)
	}
	// a thermometer in the test pack that stayed below the set temperature fails, whatever the gauge says
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessThermometer, MaxMilli: 119_000, Reached: true}))
	if c := code(b.d.Release(id, "")); c != "gate.hold" {
		t.Error(c)
	}
}

func TestCase035NoTapeNoStrip(t *testing.T) {
	b := desk(t)
	p := b.place()
	packs := demo.Packs(2, 1)
	packs[1].Tape, packs[1].Strip = false, false
	_, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: packs, WaterML: 2600})
	if code(err) != "no-indicator" {
		t.Error(err)
	}
}

func TestCase037WaterTooLow(t *testing.T) {
	b := desk(t)
	p := b.place()
	_, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 300})
	if code(err) != "water-low" {
		t.Error(err)
	}
}

func TestCase038OpenedUnderPressure(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, StopAfter: 40})
	needle := int64(20_000)
	b.check(b.d.Step(id, model.StepOpened, &needle))
	c, _ := b.d.Cycle(id)
	r, _ := b.d.Judge(c)
	if r.Verdict != model.Failed || len(c.Incidents) != 1 || word(b, id) != register.Held {
		t.Errorf("%s %v", r.Verdict, c.Incidents)
	}
}

func TestNeedleNotOnZeroIsRefusedAndNothingLost(t *testing.T) {
	b := desk(t)
	p := b.place()
	b.check(b.d.Store.SaveDraft("load", "water", "2600"))
	_, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 2600, Rest: 20_000})
	if code(err) != "needle-not-on-zero" {
		t.Error(err)
	}
	if f, _ := b.d.Store.Draft("load"); f["water"] != "2600" {
		t.Error("what was typed is gone")
	}
}

func TestCase086ClockReset(t *testing.T) {
	b := desk(t)
	b.check(b.d.Close())
	b.clk.Reboot(time.Hour)
	true_ := b.clk.Wall
	b.clk.Wall = time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC)
	b.open()
	if !b.d.AskDate() || !b.d.ClockDoubtful() {
		t.Fatal("not asked")
	}
	if c := code(b.d.AnswerDate(time.Date(2016, 1, 1, 0, 0, 0, 0, time.UTC))); c != "date-too-early" {
		t.Error(c)
	}
	_, err := b.d.AddPerson(model.Person{Name: "Night nurse", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	vs, _ := b.d.Store.Last(1)
	if _, known, _ := b.d.Corrected(vs[0]); known {
		t.Error("a doubtful date is shown as known")
	}
	b.clk.Pass(10 * time.Minute)
	b.check(b.d.AnswerDate(true_.Add(10 * time.Minute)))
	got, known, err := b.d.Corrected(vs[0])
	if err != nil || !known || !got.Equal(true_) {
		t.Errorf("corrected to %v, want %v", got, true_)
	}
	if b.d.AskDate() {
		t.Error("asked twice")
	}
}

func TestCase090Case091PeopleAndIdle(t *testing.T) {
	b := desk(t)
	id, err := b.d.AddPerson(model.Person{Name: "New nurse", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	b.d.Act(id)
	if _, err := b.d.AddPerson(model.Person{Name: "x"}); code(err) != "in-charge-only" {
		t.Error(err)
	}
	if b.d.Idle() {
		t.Error("idle at once")
	}
	b.clk.Pass(3 * time.Minute)
	if !b.d.Idle() {
		t.Error("after three minutes the next act must ask who")
	}
	people, _ := b.d.People()
	b.d.Act(people[0].ID)
	if c := code(b.d.RetirePerson(people[0].ID, "left")); c != "last-in-charge" {
		t.Error(c)
	}
	b.check(b.d.RetirePerson(id, "left"))
	people, _ = b.d.People()
	if !people[1].Gone || people[1].Person.Name != "New nurse" {
		t.Errorf("%+v", people)
	}
}

func TestRestoredCopyGetsANewStream(t *testing.T) {
	b := desk(t)
	b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	path, rep, err := b.d.Backup()
	if err != nil || !rep.OK() {
		t.Fatal(err)
	}
	old := b.d.StreamName()
	b.cycle(demo.Burn{Packs: 2, First: 11, Strip: true})
	b.check(b.d.Close())
	if _, _, err := work.Restore(path, b.dir, b.clk.Wall); err != nil {
		t.Fatal(err)
	}
	b.open()
	if b.d.StreamName() == old {
		t.Error("a restored register goes on with the old stream")
	}
	id, g := b.cycle(demo.Burn{Packs: 2, First: 21, Strip: true})
	if !g.Open() {
		t.Fatal(stops(g))
	}
	b.check(b.d.Release(id, ""))
	if word(b, id) != register.Usable {
		t.Error(word(b, id))
	}
	if r, err := b.d.Store.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

func TestSecondCopyIsRefused(t *testing.T) {
	b := desk(t)
	if _, err := work.Open(b.dir, work.Options{Clock: b.clk}); code(err) != "already-open" {
		t.Error(err)
	}
}

func TestCase012WallCardGoesStale(t *testing.T) {
	b := desk(t)
	p := b.place()
	card, _, err := b.d.MakeCard(p.Pots[0], p.Site, model.Wrapped)
	b.check(err)
	if _, old, err := b.d.CardStale(p.Pots[0], p.Site); err != nil || old || card.Number != 1 {
		t.Error("stale at once", err)
	}
	moved := p.Site
	moved.HeightM = 2600
	if _, old, _ := b.d.CardStale(p.Pots[0], moved); !old {
		t.Error("the altitude changed and the card still holds")
	}
	b.clk.Pass(91 * 24 * time.Hour)
	if _, old, _ := b.d.CardStale(p.Pots[0], p.Site); !old {
		t.Error("the card outlives its days")
	}
}

func TestDemoFills(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	clk := demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	d, err := work.Open(t.TempDir(), work.Options{Clock: clk})
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if err := demo.Fill(d, clk); err != nil {
		t.Fatal(err)
	}
	lines, err := d.Today()
	if err != nil || len(lines) < 3 {
		t.Errorf("%+v %v", lines, err)
	}
}
