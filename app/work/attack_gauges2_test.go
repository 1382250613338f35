package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Each of these once made a pack usable that nothing showed to be sterile, or kept somebody calm who should not be.

// A pack lay in two loads; one of them stands and is freed from the recall. It is held through the other, lies in a ward, and the recall does not end without it.
func TestAPackOfTwoLoadsIsNotFoundByOne(t *testing.T) {
	p, tablet, other, _ := twoAtD(t, 136_000)
	id, num, err := p.d.MakePack(packForm("delivery"))
	p.check(err)
	p.carry(p.d, p.tablet, false)
	load := func(b *bench) []model.LoadPack {
		x, err := b.d.LoadOf([]string{num.Text})
		b.check(err)
		return x
	}
	_, l1 := p.ranWith(load(p.bench), 131_000)
	p.check(p.d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	p.clk.Pass(2 * time.Hour)
	tablet.ranWith(load(tablet), 145_000)
	p.carry(p.tablet, p.d, false)
	p.clk.Pass(24 * time.Hour)
	p.compare(twentyAt...)
	_, err = p.d.SettleDoubt(p.pot().ID, "looked back")
	p.check(err)
	wrong := p.told()[0]
	p.clk.Pass(24 * time.Hour)
	p.compare(twelveAt...)
	p.check(p.d.Withdraw(p.pot(), wrong, "misread"))
	r := p.recallOf()
	for _, x := range other {
		p.check(p.d.SetAside(x))
	}
	t.Log("before:", p.d.CloseRecall(r.ID, ""), "Today asks", p.line("recall"))
	n, err := p.d.FreeStanding(r.ID, "twelve only")
	p.check(err)
	t.Log("freed", n, "end:", p.d.CloseRecall(r.ID, ""))
	r, err = p.d.Recall(r.ID)
	p.check(err)
	c, err := p.d.Cycle(l1)
	p.check(err)
	a, err := p.d.Usable(id)
	p.check(err)
	all, err := p.d.Today()
	p.check(err)
	for _, l := range all {
		t.Log(l.Urgency, l.Code, l.Args)
	}
	if r.Closed && a.Word != register.Usable {
		t.Errorf("over, %d of %d found, Short %d; the pack is %s at %s; its load stopped: %v; Today asks for it: recall %v", r.Found, r.Total, r.Short, a.Word, r.Square(id).At, c.State.Stopped(), p.line("recall"))
	}
}

// Spores grew in the pot meanwhile: a load that stands by its gauge is not freed, and its pack in a ward is still asked for.
func TestNothingIsFreedWhileItsPotIsStopped(t *testing.T) {
	b := atD(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	b.compare(rightAt...)
	b.clk.Pass(time.Hour)
	packs, _ := b.heldAt(131_000)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	r := b.recallOf()
	wrong := b.told()[0]
	b.clk.Pass(24 * time.Hour)
	b.compare(rightAt...)
	b.check(b.d.Withdraw(b.pot(), wrong, "of another gauge"))
	_, bad := b.heldAt(145_000)
	b.grows(bad)
	if n, err := b.d.StandingOf(r); n != 0 || err != nil {
		t.Errorf("%d loads are offered to be freed, %v", n, err)
	}
	if _, err := b.d.FreeStanding(r.ID, "x"); code(err) != "recall-none-stands" {
		t.Errorf("freed: %v", err)
	}
	if err := b.d.CloseRecall(r.ID, ""); code(err) != "recall-left" {
		t.Errorf("its pack lies in a ward, and the recall ends: %v", err)
	}
	if w := b.word(packs[0]); w != register.Held || !b.line("recall") {
		t.Errorf("held by growth in its pot: %s", w)
	}
}

// Another clinic says that it laid the test in, by a counter that stands first, and reads it: nothing is proved or freed by that.
func TestAnotherClinicLaysATestFirst(t *testing.T) {
	for _, who := range []string{"nobody", "B", "C", "C, and B reads that its control did not grow"} {
		x, b, c := twoClinics(t)
		x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
		x.carry(x.office, b)
		early, _ := b.sterile(1)
		_, mid := b.sterile(1)
		test := b.spore(mid, zyear, true)
		placed, err := b.d.SporeTest(test)
		b.check(err)
		_, bad := b.sterile(1)
		t0 := placed.PlacedBy.Body().Wall
		b.clk.Pass(60 * time.Hour)
		c.clk.Wall, x.office.clk.Wall = b.clk.Wall, b.clk.Wall
		if who[0] == 'C' {
			a := c.own()
			wall := c.clk.Wall
			c.clk.Wall = time.UnixMilli(t0)
			v := c.put(a, entry.Draft{Kind: model.KindSporePlaced, Targets: placed.PlacedBy.Body().Refs(), Payload: placed.Placed})
			c.clk.Wall = wall
			c.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: placed.PlacedBy.Body().Refs(), Relies: []entry.ID{v.ID()},
				Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: c.clk.Wall.UnixMilli()}})
		}
		if who == "B" {
			_, err := b.d.ReadSpore(test, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
			b.check(err)
		}
		if len(who) > 1 && who[0] == 'C' {
			_, err := b.d.ReadSpore(test, model.SporeRead{ControlGrew: false, Hours: 48, Degrees: 57})
			b.check(err)
		}
		b.grows(bad)
		r := b.recallOf()
		x.carry(c, x.office)
		x.carry(b, x.office)
		x.carry(x.office, b)
		for n, on := range map[string]*bench{"B": b.bench, "office": x.office.bench} {
			said, err := on.d.SporeTest(test)
			on.check(err)
			_, ok, err := on.d.LastNegative(b.pot().ID)
			on.check(err)
			free, ferr := on.d.Freeable(r.ID)
			t.Log("read by", who, "at", n, ":", said.Said, "last negative", ok, "freeable", free, ferr, on.word(early[0]))
		}
		k, ferr := b.d.FreeBefore(r.ID, "no others tonight")
		all, err := x.office.d.Standings()
		b.check(err)
		for _, s := range all {
			if s.Name == b.name {
				t.Log("freed", k, ferr, b.word(early[0]), "row", s.NegativeAgo)
			}
		}
		if who[0] == 'C' && b.word(early[0]) == register.Usable {
			t.Errorf("spores grew in B's pot; by a word of C alone, that it laid in and read B's test, its pack is usable (%s)", who)
		}
	}
}

// Another clinic says that it laid the test in, and no more: the own good reading counts.
func TestAnotherClinicsWordTakesNoReadingAway(t *testing.T) {
	x, b, c := twoClinics(t)
	_, mid := b.sterile(1)
	test := b.spore(mid, zyear, true)
	placed, err := b.d.SporeTest(test)
	b.check(err)
	c.clk.Wall = b.clk.Wall
	v := placed.PlacedBy.Body()
	c.putPlaced(v.Refs(), placed)
	b.clk.Pass(60 * time.Hour)
	said, err := b.d.ReadSpore(test, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	t.Log("before it is heard of:", said, err)
	x.carry(c, x.office)
	x.carry(b, x.office)
	x.carry(x.office, b)
	s, err := b.d.SporeTest(test)
	b.check(err)
	_, ok, err := b.d.LastNegative(b.pot().ID)
	b.check(err)
	if s.Said != model.SporeNegative {
		t.Errorf("its own good reading: %s, last negative %v", s.Said, ok)
	}
}

// The tablet lights at noon, its load comes to the laptop in the evening, and there it is told only then that another gauge came on that day: which one was watched nobody knows.
func TestAGaugeToldOfAfterTheLoad(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.clk.Pass(72 * time.Hour)
	lit := p.clk.Wall
	packs, _ := tablet.heldAt(131_000)
	p.carry(p.tablet, p.d, false)
	p.clk.Pass(time.Hour)
	p.check(p.d.NewGauge(p.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	p.compare(twelveAt...)
	then, err := p.d.GaugesThen(p.pot(), lit)
	p.check(err)
	t.Log(len(then), p.word(packs[0]))
	if len(then) == 2 && p.word(packs[0]) == register.Usable {
		t.Error("two gauges may have been on when it was lit; usable, nobody asked")
	}
}

// The same with a slip.
func TestASlipBeforeItIsToldThatTheGaugeChanged(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	lit := b.clk.Wall.Add(-10 * time.Hour)
	pack, _, released := b.typed(slipOf(lit))
	b.clk.Pass(time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	then, err := b.d.GaugesThen(b.pot(), lit)
	b.check(err)
	b.compare(twelveAt...)
	t.Log(released, len(then), b.word(pack))
	if len(then) == 2 && b.word(pack) == register.Usable {
		t.Error("two gauges may have been on at its hour, the other shows 12 too much: usable")
	}
}

// Another gauge was told of by mistake: what was lit by its mark meanwhile is in doubt.
func TestAGaugeThatWasNeverOff(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	old := b.pot().Looks.Gauge
	b.swap()
	b.compare(rightAt...)
	packs, _ := b.heldAt(133_000)
	b.clk.Pass(time.Hour)
	b.check(b.d.OnThePot(b.pot(), old, false)) // it was never off
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("133 on what may have been a gauge that shows 12 too much: %s", w)
	}
}

// Of two gauges the old one was on: what was lit by the other is in doubt.
func TestTwoGaugesSettledAsTheOldOne(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(twelveAt...)
	p.carry(p.d, p.tablet, false)
	old := p.pot().Looks.Gauge
	tablet.check(tablet.rename("the pot at the window"))
	p.swap()
	p.compare(rightAt...)
	packs, _ := p.heldAt(133_000)
	p.carry(p.tablet, p.d, false)
	p.carry(p.d, p.tablet, false)
	t.Log("while two may be on:", p.word(packs[0]))
	p.check(p.d.OnThePot(p.pot(), old, false))
	if w := p.word(packs[0]); w == register.Usable {
		t.Errorf("two gauges may have been on, it is said that it is the old one, 12 too high: 133 is %s", w)
	}
}

// The day on which a gauge was changed is in doubt, and a later word says the new one on a day that is known: the old one was surely off after that.
func TestAGaugeIsOffThoughNobodyKnowsSinceWhen(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	old := b.pot()
	a := b.own()
	id := b.d.NewID()
	sign := func(d entry.Draft) {
		v, err := a.Sign(d, b.clk.Now(), model.ClockDoubtful)
		b.check(err)
		a.Advance(v)
		b.check(b.d.Store.Append(v))
	}
	sign(entry.Draft{Kind: model.KindGauge, Targets: []model.Ref{{Noun: model.NounGauge, ID: id}}, Payload: model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}})
	st := old.Looks
	st.Gauge, st.Screwed = id, true
	var reps []entry.ID
	vs, err := b.d.Store.ByKind(model.KindSterilizer)
	b.check(err)
	for _, e := range vs {
		reps = append(reps, e.ID())
	}
	sign(entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: old.ID}}, Replaces: reps, Payload: st})
	b.check(b.d.Close())
	b.open()
	b.clk.Pass(48 * time.Hour)
	b.check(b.rename("by the window"))
	b.compare(twelveAt...)
	b.clk.Pass(10 * 24 * time.Hour)
	s := slipOf(b.clk.Wall.Add(-48 * time.Hour))
	s.Gauge = old.Looks.Gauge
	cycle, err := b.d.TypeIn(b.pot(), b.place().Site, s)
	if err != nil {
		t.Log("refused", err)
		return
	}
	checks, err := demo.GoodChecks(b.d, cycle)
	b.check(err)
	b.check(b.d.Witnessed(cycle, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	b.check(b.d.Unload(cycle, checks, true))
	err = b.d.Release(cycle, "")
	c, cerr := b.d.Cycle(cycle)
	b.check(cerr)
	w := b.word(c.Begun.Packs[0].ID)
	t.Log(err, w)
	if w == register.Usable {
		t.Error("typed in with a gauge that was off for ten days: usable")
	}
}

// The number of a gauge that is known to be bad is not given to another under Setup.
func TestTheNumberOfAKnownGaugeIsNotTakenTwice(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(24 * time.Hour)
	first := b.pot()
	b.swap() // "9"
	b.compare(twelveAt...)
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), first.Looks.Gauge, false))
	b.clk.Pass(24 * time.Hour)
	a := demo.Answers("en")
	p := b.place()
	a.Site, a.Pot, a.Gauge = p.Site, p.Pots[0].Looks, p.Pots[0].Gauge
	a.Gauge.Serial = "9"
	if err := b.d.Correct(p.Pots[0], p, a); err != nil {
		t.Log("refused:", err)
		return
	}
	packs, _ := b.heldAt(131_000)
	t.Errorf("the dial is number 9, number 9 was found 12 too high, 131 on it is %s", b.word(packs[0]))
	all, err := b.d.EarlierGauges(b.pot())
	b.check(err)
	for _, x := range all {
		t.Log("earlier:", x.Gauge.Serial)
	}
}

// Where a clinic may light no fire because two gauges may be on its pot, the office sees it.
func TestTwoGaugesAreSeenAtTheOffice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tab := x.twin(b)
	_, load := b.sterile(1)
	b.zneg(b.spore(load, zyear, true))
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	x.carry(b, x.office)
	g := b.pot().Gauge
	g.Serial = "99"
	b.check(b.d.NewGauge(b.pot(), g))
	tab.check(tab.rename("by the window"))
	x.carry(tab, b)
	t.Log(len(b.pot().Also), b.line("two-gauges"))
	in := x.carry(b, x.office)
	x.office.clk.Wall = b.clk.Wall
	all, err := x.office.d.Standings()
	b.check(err)
	t.Log(in.Stops(), in.Worse, all[0].Bad(), all[0].GaugeAgo, all[0].NegativeAgo, all[0].Out)
	if b.line("two-gauges") && !in.Stops() && !all[0].Bad() {
		t.Error("no fire may be lit at the clinic, and the office is calm")
	}
}

// A reading that comes later takes a release away: the stick says so at the office.
func TestAStickThatTakesAReleaseAway(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(1)
	x.carry(b, x.office)
	c, err := b.d.Cycle(load)
	b.check(err)
	at := c.Readings[len(c.Readings)/2].At + 60_000
	b.put(b.own(), entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(load)},
		Payload: model.Readings{Source: model.Live, List: []model.Reading{{At: at, NeedleMilli: 60_000, Answer: model.Stayed}}}})
	in := x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	t.Log(x.office.word(packs[0]), in.Stops(), in.Worse, all[0].Bad(), all[0].Stopped)
	if x.office.word(packs[0]) != register.Usable && !in.Stops() {
		t.Error("Stops false at the office")
	}
}

// And where a pack of it is lent to.
func TestAStickThatTakesTheReleaseOfALentPackAway(t *testing.T) {
	x, b, c := twoClinics(t)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	x.round(b, c)
	cy, err := b.d.Cycle(load)
	b.check(err)
	at := cy.Readings[len(cy.Readings)/2].At + 60_000
	b.put(b.own(), entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(load)},
		Payload: model.Readings{Source: model.Live, List: []model.Reading{{At: at, NeedleMilli: 60_000, Answer: model.Stayed}}}})
	x.carry(b, x.office)
	was := c.word(packs[0])
	in := x.carry(x.office, c)
	t.Log(was, c.word(packs[0]), in.Stops(), in.Stopped)
	if was == register.Usable && c.word(packs[0]) != register.Usable && !in.Stops() {
		t.Error("C holds the pack, it turned", c.word(packs[0]), "and the stick stops nothing")
	}
}

// One recall ended and another was opened: the clinic is named.
func TestARecallEndsAndAnotherComes(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	p1, l1 := b.sterile(1)
	_, l2 := b.sterile(1)
	r1, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{l1}})
	b.check(err)
	b.check(b.d.Stop(l2, "lid"))
	x.carry(b, x.office)
	_, err = x.office.d.Standings()
	b.check(err)
	b.check(b.d.SetAside(p1[0]))
	b.check(b.d.CloseRecall(r1, ""))
	_, err = b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "lid", Loads: []model.ID{l2}})
	b.check(err)
	in := x.carry(b, x.office)
	t.Log(in.Stops(), in.Worse)
	if len(in.Worse) == 0 {
		t.Error("a new recall of the clinic came, and the clinic is not among the worse")
	}
}

// ranWith is heldAt with some packs.
func (b *bench) ranWith(load []model.LoadPack, needle int64) (packs []model.ID, id model.ID) {
	b.t.Helper()
	packs, id = b.ranLoad(load, needle)
	b.check(b.d.Release(id, ""))
	return packs, id
}

func (b *bench) putPlaced(refs []model.Ref, p work.SporeTest) {
	b.put(b.own(), entry.Draft{Kind: model.KindSporePlaced, Targets: refs, Payload: p.Placed})
}

var twentyAt = []work.ComparePoint{{Shown: 80, True: 60}, {Shown: 150, True: 130}}
