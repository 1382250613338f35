package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	body "mvuke/steam/pot"
)

func lineOf(t *testing.T, b *bench, code string) (work.Line, bool) {
	t.Helper()
	ls, err := b.d.Today()
	b.check(err)
	i := slices.IndexFunc(ls, func(l work.Line) bool { return l.Code == code })
	if i < 0 {
		return work.Line{}, false
	}
	return ls[i], true
}

// A pot is learnt from its third good cycle on; one that was given up, and one on paper, tell nothing.
func TestAPotIsLearntFromItsOwnCycles(t *testing.T) {
	b := desk(t)
	pot := b.place().Pots[0].ID
	known := func() body.Known {
		k, _, err := b.d.Learnt(pot)
		b.check(err)
		return k
	}
	b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	b.cycle(demo.Burn{Packs: 2, First: 10, Strip: true})
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 20, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "x"}))
	if k := known(); k.Exhaust.Known() || k.Boil.Known() {
		t.Fatalf("learnt from two cycles: %+v", k)
	}
	b.cycle(demo.Burn{Packs: 2, First: 30, Strip: true})
	k := known()
	if !k.Exhaust.Known() || k.Exhaust.Mid != 7 || !slices.Equal(k.Exhaust.From, []int64{1, 2, 4}) || k.Boil.Mid != 17 {
		t.Errorf("%+v", k)
	}
	b.d.Close()
	b.open()
	if again := known(); again.Exhaust.Mid != k.Exhaust.Mid || again.Rise.Mid != k.Rise.Mid {
		t.Errorf("after a restart: %+v", again)
	}
}

// A valve that is blocked shows as a slower exhaust, on Today, until a later cycle is as usual again.
func TestABlockedValveStandsOnToday(t *testing.T) {
	b := desk(t)
	for i := range 4 {
		b.cycle(demo.Burn{Packs: 2, First: 1 + 10*i, Strip: true})
	}
	if _, ok := lineOf(t, b, "changed-slower-exhaust"); ok {
		t.Fatal("a pot that does what it always did is said to have changed")
	}
	b.cycle(demo.Burn{Packs: 2, First: 60, Strip: true, Exhaust: 15})
	l, ok := lineOf(t, b, "changed-slower-exhaust")
	if !ok || l.Urgency != work.Now || l.Go != "taught" || l.Args[1] != "15" {
		t.Fatalf("%+v", l)
	}
	b.cycle(demo.Burn{Packs: 2, First: 70, Strip: true})
	if _, ok := lineOf(t, b, "changed-slower-exhaust"); ok {
		t.Error("the line stays after a cycle as usual")
	}
	b.cycle(demo.Burn{Packs: 2, First: 80, Strip: true, Exhaust: 3})
	if _, ok := lineOf(t, b, "changed-faster-exhaust"); !ok {
		t.Error("steam out in three minutes is not told")
	}
}

// Advice says where it comes from, and changes no verdict.
func TestAdviceAtTheFire(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, StopAfter: 12})
	c, err := b.d.Cycle(id)
	b.check(err)
	before, err := b.d.Judge(c)
	b.check(err)
	as, err := b.d.Advice(c, before.Running)
	b.check(err)
	if len(as) == 0 || as[0].Own {
		t.Fatalf("%+v", as)
	}
	b.clk.Pass(3 * time.Minute) // and the needle falls
	line := c.Begun.Plan.RestartMilli
	b.check(b.d.Look(id, line+2000, model.Stayed, 0))
	c, _ = b.d.Cycle(id)
	as, err = b.d.Advice(c, 0)
	b.check(err)
	if as[0].Code != body.FeedNow || !as[0].Urgent {
		t.Errorf("the needle falls to the line: %+v", as)
	}
	b.check(b.d.Step(id, model.StepFed, nil))
	b.check(b.d.Step(id, model.StepTamed, nil))
	c, _ = b.d.Cycle(id)
	after, err := b.d.Judge(c)
	b.check(err)
	if after.Held < before.Held || slices.ContainsFunc(after.Reasons, func(r model.Reason) bool { return r.Code == assess.BadTimes }) {
		t.Errorf("wood put on changed the hold: %+v, then %+v", before, after)
	}
	b.check(b.d.Step(id, model.StepFireDrawn, nil))
	b.check(b.d.Step(id, model.StepSteamOut, nil))
	b.clk.Pass(20 * time.Minute)
	c, _ = b.d.Cycle(id)
	as, err = b.d.Advice(c, 0)
	b.check(err)
	if len(as) == 0 || as[0].Code != body.DoNotOpen || !as[0].Urgent {
		t.Errorf("twenty minutes and not at zero: %+v", as)
	}
}

// Lessons and the word of a supervisor stand with the person; nobody signs themselves off.
func TestTrainingOfAPerson(t *testing.T) {
	b := desk(t)
	boss := b.d.Acting()
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	b.d.Act(nurse)
	b.check(b.d.PassLesson(nurse, "air", 7))
	b.check(b.d.PassLesson(nurse, "air", 8))
	b.check(b.d.PassLesson(nurse, "hold", 9))
	if err := b.d.SignOff(nurse); err == nil {
		t.Error("a recorder signed somebody off")
	}
	b.d.Act(boss)
	if code(b.d.SignOff(boss)) != "own-sign-off" {
		t.Error("somebody signed themselves off")
	}
	b.check(b.d.SignOff(nurse))
	tr, err := b.d.Training(nurse)
	b.check(err)
	if !slices.Equal(tr.Lessons, []string{"air", "hold"}) || tr.Signed != boss || tr.By == "" {
		t.Errorf("%+v", tr)
	}
}
