package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// What a walk through the program as its users found: nothing of it was an attack.

// Setup, Correct with nothing changed but a name keeps how the altitude is known.
func TestAHeightThatIsLeftAsItIsIsNotStatedAnew(t *testing.T) {
	b := desk(t)
	b.correctSite(func(s *model.Site) { s.How, s.WithinM = model.BySurvey, 10 })
	before, err := b.d.Heights()
	b.check(err)
	p := b.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	a.Pot.Name = "kitchen"
	b.check(b.d.Correct(p.Pots[0], p, a))
	after, err := b.d.Heights()
	b.check(err)
	if len(after) != len(before) || after[0].By.ID() != before[0].By.ID() || after[0].How != model.BySurvey {
		t.Errorf("it was known by a survey, and is by %s of %v", after[0].How, after[0].By.Body().Wall)
	}
	if b.pot().Looks.Name != "kitchen" {
		t.Error("the pot has its old name")
	}
}

// A recall that ended with packs on the shelf stands on Today until they are set aside, and they can be.
func TestPacksThatAnEndedRecallLeftOnTheShelf(t *testing.T) {
	b := desk(t)
	packs, load := b.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}})
	b.check(err)
	if b.line("recall-left") {
		t.Error("it is open, and Today says that it has ended")
	}
	b.check(b.d.CloseRecall(id, "the ward lost them"))
	for i, p := range packs {
		if !b.line("recall-left") {
			t.Errorf("%d set aside, and Today is silent", i)
		}
		b.check(b.d.SetAside(p))
	}
	if b.line("recall-left") {
		t.Error("all are set aside, and Today asks for them")
	}
}

// Packs that nothing but their pot stops lie among the others on the shelf: Today counts them, and leads to them.
func TestPacksThatOnlyTheirPotStopsStandOnToday(t *testing.T) {
	b := desk(t)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	_, second := b.sterile(1)
	b.grows(second)
	l, ok := lineOf(t, b, "held-shelf")
	if !ok || l.Args[0] != "1" || l.Go != "packs" {
		t.Errorf("%v %+v", ok, l)
	}
	b.zback()
	if b.line("held-shelf") {
		t.Error("the pot is back, and Today counts packs that it stops")
	}
}

// Of each clinic the gravest gap comes first: one clinic does not push another off the page.
func TestOneClinicDoesNotHideTheNext(t *testing.T) {
	m := work.Month{Sites: []work.Figures{
		{Name: "A", Reported: true, RecallsOpen: 1, Grew: 1, InDoubt: 2, Undated: 1},
		{Name: "B", Reported: true, Wet: 3},
		{Name: "C", Reported: true, InDoubt: 4},
	}}
	var names string
	for _, g := range m.Worst(3) {
		names += g.Site
	}
	if names != "ACB" {
		t.Errorf("the three worst are of %q", names)
	}
	if all := m.Worst(100); len(all) < 5 {
		t.Errorf("only %d gaps are left of all", len(all))
	}
}

// A drill lists nobody for the clinician, nor does a recall of which nobody is to be told.
func TestNobodyIsListedInADrill(t *testing.T) {
	b := desk(t)
	packs, load := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.clk.Pass(time.Hour)
	for _, drill := range []bool{true, false} {
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}, Drill: drill})
		b.check(err)
		r, err := b.d.Recall(id)
		b.check(err)
		if r.Listed() == drill {
			t.Errorf("drill %v: listed %v", drill, r.Listed())
		}
	}
}

// A load that was rejected after its packs went out stays on Today however long ago it was, until it is called back and somebody answers for it.
func TestARejectedLoadIsAnsweredForByARecall(t *testing.T) {
	b := desk(t)
	packs, load := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.check(b.d.Reject(load, "the thermometer inside had not moved"))
	if !b.line("stopped-out") {
		t.Fatal("one of its packs was used, and Today is silent")
	}
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "rejected after use", Loads: []model.ID{load}})
	b.check(err)
	if b.line("stopped-out") {
		t.Error("it is called back, and Today says it twice")
	}
	b.check(b.d.TellRecall(id, model.SoughtClinician, packs, "the midwife"))
	b.check(b.d.CloseRecall(id, ""))
	if b.line("stopped-out") || b.line("recall") {
		t.Error("the clinician was told, and Today asks still")
	}
}

// The office sees on a clinic's row that an ended recall left packs on its shelf, until they are set aside.
func TestTheOfficeSeesWhatAnEndedRecallLeft(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(1)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.CloseRecall(id, "the shelf is locked"))
	x.carry(b, x.office)
	left := func() (n int) {
		t.Helper()
		all, err := x.office.d.Standings()
		x.office.check(err)
		for _, s := range all {
			n += s.Left
		}
		return n
	}
	if n := left(); n != 1 {
		t.Errorf("%d packs are left by the office's rows", n)
	}
	b.check(b.d.SetAside(packs[0]))
	x.carry(b, x.office)
	if n := left(); n != 0 {
		t.Errorf("it was set aside, and %d are left", n)
	}
}

// A recall for a gauge lists nobody whose load reaches the least dose all the same; one that is widened by hand is for another reason too, which no reading answers.
func TestAWidenedRecallListsWhomTheReadingsCleared(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, _ := b.heldAt(131_000)
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 63, True: 60}, work.ComparePoint{Shown: 133, True: 130})
	_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	if r := b.recallOf(); r.Untold != 0 || r.Listed() {
		t.Fatalf("the least dose was guaranteed, and %d are to be told", r.Untold)
	}
	b.check(b.d.WidenRecall(b.recallOf().ID, "the cloth was damp"))
	if r := b.recallOf(); r.Untold != 1 || !r.Listed() {
		t.Errorf("the cloth was damp, which no reading answers, and %d are to be told", r.Untold)
	}
}

// A called-back pack in a ward stands on Today after its recall has ended, until it is set aside or said not to be found.
func TestAPackInAWardThatAnEndedRecallLeft(t *testing.T) {
	b := desk(t)
	packs, load := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.CloseRecall(id, "nobody went there"))
	if !b.line("recall-left") {
		t.Error("it is in the maternity, and Today is silent")
	}
	b.check(b.d.TellRecall(id, model.SoughtLost, packs, ""))
	if b.line("recall-left") {
		t.Error("it was looked for and not found, by a signed reason, and Today asks still")
	}
}

// Of two altitudes that stand, how the one that is shown first is known settles nothing: the higher counts until somebody says which it is.
func TestHowAnAltitudeIsKnownSettlesNoOther(t *testing.T) {
	for _, first := range []int64{1250, 1600} {
		x := newDistrictOf(t, "Clinic B")
		b := x.clinics[0]
		x.join(b)
		tablet := x.twin(b)
		x.carry(tablet, b)
		b.clk.Pass(time.Hour)
		b.correctSite(func(s *model.Site) { s.HeightM, s.How, s.WithinM = first, model.BySurvey, 10 })
		tablet.correctSite(func(s *model.Site) { s.HeightM, s.How, s.WithinM = 2850-first, model.BySurvey, 10 })
		x.carry(tablet, b)
		need := b.plan().Frozen.NeedPa
		b.correctSite(func(s *model.Site) { s.How, s.WithinM = model.ByMap, 10 })
		if now := b.plan().Frozen.NeedPa; now < need || !b.line("heights") {
			t.Errorf("%d m: the need fell from %d to %d Pa; Today asks which it is: %v", first, need, now, b.line("heights"))
		}
	}
}
