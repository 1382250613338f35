package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// A load of this morning, by a good clock. The power fails at noon, the clock comes up in the year 2000 a little after midnight, and somebody says which day it is: the time of day is kept from the clock, as the screen does.
func TestAttack7TheSameDayAnswered(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	if s := b.state(packs[0]); s != work.ShelfReady {
		t.Fatal(s)
	}
	real := b.clk.Wall.Add(time.Hour)
	b.reboot(time.Hour, time.Date(2000, 1, 1, 0, 20, 0, 0, time.UTC))
	if !b.d.AskDate() {
		t.Fatal("not asked")
	}
	b.check(b.d.AnswerDate(time.Date(real.Year(), real.Month(), real.Day(), 0, 25, 0, 0, time.UTC)))
	b.reboot(time.Hour, real.Add(2*time.Hour))
	p, err := b.d.Pack(packs[0])
	b.check(err)
	if p.State != work.ShelfReady {
		t.Errorf("lit this morning by a clock that was right, the day was answered rightly, and its pack is %s, ahead: %v; last day %s", p.State, p.Ahead, p.LastDay)
	}
}

// Twelve too much at the foot of the dial and nothing at the mark: the load stands and is freed. The next one finds nothing at the foot and twelve at the mark.
func TestAttack7NoWorseButElsewhere(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, cycle := b.heldAt(131_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 66, True: 60}, work.ComparePoint{Shown: 130, True: 130})
	if w := b.word(packs[0]); w != register.Held {
		t.Fatal(w)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	if w := b.word(packs[0]); w != register.Usable {
		t.Fatalf("%+v %s", came, w)
	}
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 60, True: 60}, work.ComparePoint{Shown: 136, True: 130})
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("131 on a gauge that shows six too much there; line now %d, looked back %+v stands %v; %s, in-doubt %v", b.plan().Frozen.RestartMilli, l.Now.Line, l.Stands, w, b.line("in-doubt"))
	}
	b.tablesHold()
}

// Another gauge was on the pot; by its class the load stands, and is freed. Then that dial is put right: it goes to 400 and not to 160.
func TestAttack7TheOtherDialPutRight(t *testing.T) {
	for _, wrong := range []bool{true, false} {
		p, tablet, _, _ := twoAtD(t, 142_000)
		b := p.bench
		p.carry(b.d, p.tablet, false)
		p.clk.Pass(48 * time.Hour)
		looks := model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 160_000, LineMilli: 1000, ClassMilli: 1000}
		if !wrong {
			looks.SpanMilli, looks.LineMilli = 400_000, 10_000
		}
		b.check(b.d.NewGauge(b.pot(), looks))
		p.clk.Pass(time.Hour)
		packs, load := tablet.heldAt(140_000) // has not heard of it
		p.carry(p.tablet, b.d, false)
		p.carry(b.d, p.tablet, false)
		p.clk.Pass(time.Hour)
		l, err := b.d.LookBack(load)
		b.check(err)
		if !wrong {
			if l.Stands {
				t.Fatal("it stands by that dial")
			}
			continue
		}
		came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
		b.check(err)
		if w := b.word(packs[0]); w != register.Usable {
			t.Fatalf("%+v %s", came, w)
		}
		p.clk.Pass(time.Hour)
		b.correctGauge(func(g *model.GaugeLooks) { g.SpanMilli, g.LineMilli = 400_000, 10_000 })
		if w := b.word(packs[0]); w == register.Usable {
			t.Errorf("the needle stood at 140 on a dial of which the line is %d; it is %s, in-doubt on Today %v, held by %v", b.plan().Frozen.RestartMilli, w, b.line("in-doubt"), b.doubtedBy(load))
		}
	}
}

// C says that it unwrapped a pack of B that is in B's maternity, and then that it has seen it.
func TestAttack7OpenedThenSeenByAnotherClinic(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	packs, load := b.sterile(3)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.check(b.d.OpenPack(packs[2], packUse()))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}})
	b.check(err)
	x.carry(b, x.office)
	x.carry(x.office, c)
	_ = c.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true}) // refused or not
	_ = c.d.TellRecall(id, model.SoughtSeen, []model.ID{packs[1]}, "")                           // refused or not
	_ = c.d.OpenPack(packs[2], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true}) // refused or not
	_ = c.d.TellRecall(id, model.SoughtClinician, []model.ID{packs[2]}, "Dr")                    // refused or not
	x.carry(c, x.office)
	x.carry(x.office, b)
	for _, h := range []house{x.office, b} {
		r, err := h.d.Recall(id)
		h.check(err)
		if q := r.Square(packs[1]); q != nil && q.Found {
			t.Errorf("%s: a pack in the maternity of B is found (%s) by the word of C", h.name, q.At)
		}
		if q := r.Square(packs[2]); q != nil && (q.Told || !q.Owed) {
			t.Errorf("%s: told of the use at B by the word of C: %+v", h.name, q)
		}
	}
}

// The packs of a rejected load were unwrapped by a device that is taken out since before: Today asks to look for them. Can anybody answer?
func TestAttack7UnwrappedByARemovedDevice(t *testing.T) {
	for _, how := range []string{"opened", "spoilt"} {
		t.Run(how, func(t *testing.T) {
			x := newDistrictOf(t, "Clinic B")
			b := x.clinics[0]
			x.join(b)
			packs, cycle := b.sterile(1)
			b.check(b.d.Reject(cycle, "tape"))
			tablet := x.twin(b)
			x.carry(tablet, b)
			b.clk.Pass(time.Hour)
			since := b.clk.Wall
			b.clk.Pass(time.Hour)
			if how == "opened" {
				tablet.check(tablet.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true}))
			} else {
				tablet.check(tablet.d.SpoilPack(packs[0], model.SpoiltTorn))
			}
			x.carry(tablet, b)
			b.zsteal(since)
			if !b.line("unwrap") {
				t.Error("nobody whose word counts unwrapped it, and Today is silent")
			}
			b.check(b.d.SpoilPack(packs[0], model.SpoiltTorn))
			for _, l := range b.todayOf() {
				if l.Code == "unwrap" {
					t.Error("Today asks to unwrap what nobody can say he unwrapped")
				}
			}
		})
	}
}

// The tablet describes the dial and the altitude twice; the laptop puts both right, and lights by its own word. Then the tablet is taken out since before.
func TestAttack7PlannedByTheLaptopAfterTwoWordsOfTheTablet(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.correctGauge(func(g *model.GaugeLooks) { g.Serial = "771" })
	b.clk.Pass(time.Hour)
	tablet.correctGauge(func(g *model.GaugeLooks) { g.Serial = "772" })
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	b.correctGauge(func(g *model.GaugeLooks) { g.Serial = "773" })
	b.clk.Pass(time.Hour)
	packs, cycle := b.sterile(1)
	if w := b.word(packs[0]); w != register.Usable {
		t.Fatal(w)
	}
	b.zsteal(since)
	if w := b.word(packs[0]); w != register.Usable {
		c, err := b.d.Cycle(cycle)
		b.check(err)
		t.Errorf("it was planned by what the laptop said of the dial, and is %s by %v", w, register.Codes(c.State.Holds))
	}
}
