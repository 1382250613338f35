package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

var rightAt, twelveAt = []work.ComparePoint{{Shown: 60, True: 60}, {Shown: 130, True: 130}}, []work.ComparePoint{{Shown: 72, True: 60}, {Shown: 142, True: 130}}

// swap screws another gauge on.
func (b *bench) swap() {
	b.t.Helper()
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
}

// A comparison of a gauge that is screwed off was written wrongly: with the old gauge in the hand it is compared once more and taken back, and the load that it stopped stands when it is looked back on. The gauge on the pot
// has nothing of it: no mark, no day, no care.
func TestAComparisonOfAnEarlierGaugeIsTakenBack(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	packs, _ := b.heldAt(135_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	if a, _ := b.d.Usable(packs[0]); a.Word != register.Held {
		t.Fatalf("the load is %s", a.Word)
	}
	if all, err := b.d.EarlierGauges(b.pot()); err != nil || len(all) > 0 {
		t.Fatal(all, err)
	}
	b.swap()
	all, err := b.d.EarlierGauges(b.pot())
	b.check(err)
	if len(all) != 1 || all[0].Looks.Gauge == b.pot().Looks.Gauge || all[0].Gauge.Serial == b.pot().Gauge.Serial || all[0].Gauge.Unit == "" {
		t.Fatalf("%+v", all)
	}
	old := all[0]
	list, err := b.d.Comparisons(old)
	b.check(err)
	if len(list) != 2 || !list[0].Counts {
		t.Fatalf("%+v", list)
	}
	wrong := list[0].ID
	if err := b.d.Withdraw(old, wrong, "of another gauge"); code(err) != "withdraw-alone" {
		t.Errorf("nothing else counts: %v", err)
	}
	plan := b.plan()
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.Compare(old, b.place().Site, b.form(rightAt...)))
	if list, _ := b.d.Comparisons(b.pot()); len(list) > 0 {
		t.Errorf("it is listed with the gauge that is on the pot: %+v", list)
	}
	b.check(b.d.Withdraw(old, wrong, "of another gauge"))
	if a, _ := b.d.Usable(packs[0]); a.Word != register.Held {
		t.Errorf("before anybody looked back it is %s", a.Word)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "the comparison was of another gauge")
	b.check(err)
	if a, _ := b.d.Usable(packs[0]); came.Stood != 1 || came.Called != 0 || a.Word != register.Usable {
		t.Errorf("%+v, and it is %s", came, a.Word)
	}
	if now := b.plan(); now.Frozen.RestartMilli != plan.Frozen.RestartMilli || now.Frozen.MarkMilli != plan.Frozen.MarkMilli {
		t.Errorf("the marks of the new gauge changed: %+v", now.Frozen)
	}
	b.neverCompared()
	b.clk.Pass(24 * time.Hour)
	b.compare(rightAt...)
	if f := b.monthNow(); f.ComparedAgo != 0 || !b.task(model.CareGauge).Ever {
		t.Errorf("compared, and it says %d", f.ComparedAgo)
	}
	if err := b.d.Withdraw(b.pot(), b.told()[0], "of another gauge"); code(err) != "withdraw-alone" {
		t.Errorf("nothing else counts for this gauge: %v", err)
	}
}

func (b *bench) monthNow() work.Figures {
	b.t.Helper()
	all, err := b.d.MonthsAt(b.place().ID, 1)
	b.check(err)
	if len(all) != 1 || !all[0].Reported {
		b.t.Fatalf("%+v", all)
	}
	return all[0]
}

// neverCompared checks that nothing takes the gauge on the pot for compared.
func (b *bench) neverCompared() {
	b.t.Helper()
	if f := b.monthNow(); f.ComparedAgo != -1 {
		b.t.Errorf("the month says that it was compared %d days ago", f.ComparedAgo)
	}
	if x := b.task(model.CareGauge); x.Ever {
		b.t.Errorf("the care of the pot says that it was compared on %v", x.Last)
	}
	if _, ok, err := b.d.LastCompared(b.pot()); ok || err != nil {
		b.t.Errorf("compared: %v", err)
	}
}

// A gauge that was screwed on yesterday was not compared by what was done with the one before it.
func TestANewGaugeWasNotCompared(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	if f := b.monthNow(); f.ComparedAgo != 0 {
		t.Fatalf("%d days", f.ComparedAgo)
	}
	b.swap()
	b.neverCompared()
}

// A clinic with two pots is not told to be tested and compared by what was done with one of them.
func TestOfTwoPotsTheLongestCounts(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	_, load := b.heldAt(135_000)
	id, err := b.d.PlaceSpore(load, model.SporePlaced{Lot: "L1", Expires: b.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true})
	b.check(err)
	b.zneg(id)
	if f := b.monthNow(); f.NegativeAgo != 2 || f.ComparedAgo != 2 {
		t.Fatalf("%d and %d", f.NegativeAgo, f.ComparedAgo)
	}
	b.put(b.own(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.d.NewID()}}, Payload: model.Sterilizer{Name: "the small one", Gauge: b.d.NewID()}})
	if f := b.monthNow(); f.NegativeAgo != -1 || f.ComparedAgo != -1 {
		t.Errorf("the other pot was never tested, and it says %d and %d", f.NegativeAgo, f.ComparedAgo)
	}
}

// The office reads the same of a clinic as the clinic itself: compared and tested, then with another gauge on, never compared; a comparison that is taken back was none.
func TestTheOfficeKnowsWhichGaugeWasCompared(t *testing.T) {
	x, b, _ := twoClinics(t)
	at := func() work.Standing {
		t.Helper()
		x.office.clk.Wall = b.clk.Wall
		x.carry(b, x.office)
		all, err := x.office.d.Standings()
		x.office.check(err)
		for _, s := range all {
			if s.Name == b.name {
				return s
			}
		}
		t.Fatal("not there")
		return work.Standing{}
	}
	_, load := b.sterile(1)
	b.compare(work.ComparePoint{Shown: 50, True: 50}, work.ComparePoint{Shown: 121, True: 121})
	id, err := b.d.PlaceSpore(load, model.SporePlaced{Lot: "L1", Expires: b.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true})
	b.check(err)
	b.zneg(id)
	if s := at(); s.GaugeAgo != 2 || s.NegativeAgo != 2 || s.HighMilli != 0 {
		t.Fatalf("%+v", s)
	}
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 54, True: 50}, work.ComparePoint{Shown: 125, True: 121})
	if s := at(); s.GaugeAgo != 0 || s.HighMilli != 4000 {
		t.Fatalf("found to show 4 too much: %d days, %d", s.GaugeAgo, s.HighMilli)
	}
	wrong := b.told()[0]
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 51, True: 50}, work.ComparePoint{Shown: 122, True: 121})
	b.takeBack(wrong)
	if s := at(); s.HighMilli != 1000 {
		t.Fatalf("found to show 1 too much since: %d", s.HighMilli)
	}
	last := b.told()[0]
	b.put(b.manager(97), entry.Draft{Kind: model.KindCompared, Replaces: []entry.ID{last}, Payload: model.Compared{Withdraws: last[:], Reason: "of another gauge", At: b.clk.Wall.UnixMilli()},
		Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}, {Noun: model.NounSterilizer, ID: b.pot().ID}}})
	if s := at(); s.HighMilli != 0 || s.GaugeAgo < 4 {
		t.Fatalf("the last one is taken back too, and the first found it right: %d, %d days ago", s.HighMilli, s.GaugeAgo)
	}
	b.swap()
	if s := at(); s.GaugeAgo != -1 || !s.GaugeDue || s.HighMilli != 0 || s.NegativeAgo < 2 {
		t.Errorf("with another gauge on: %+v", s)
	}
}

// Of two pots that one device described, each is asked for: the one told of first is not forgotten for the other.
func TestThePotToldOfFirstCounts(t *testing.T) {
	b := atD(t)
	if f := b.monthNow(); f.ComparedAgo != -1 {
		t.Fatal(f.ComparedAgo)
	}
	gauge := model.Ref{Noun: model.NounGauge, ID: b.d.NewID()}
	pot := model.Ref{Noun: model.NounSterilizer, ID: b.d.NewID()}
	b.put(b.own(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{pot}, Payload: model.Sterilizer{Name: "the small one", Gauge: gauge.ID}})
	d := b.of(saysRight)
	d.Targets = []model.Ref{gauge, pot}
	b.put(b.own(), d)
	if f := b.monthNow(); f.ComparedAgo != -1 {
		t.Errorf("the first pot's gauge was never compared, and it says %d", f.ComparedAgo)
	}
}
