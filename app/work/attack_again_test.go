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
)

func TestNoMarkIsNoWayIn(t *testing.T) {
	for _, m := range []int64{2250, 2500} {
		b := desk(t)
		id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
		_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: m})
		b.check(err)
		g, err := b.d.Gate(id)
		b.check(err)
		if g.Open() {
			err := b.d.Release(id, "")
			t.Errorf("told %d m: gate stops %v, release %v, pack %s", m, stops(g), err, word(b, id))
		}
	}
}

func TestTwoDialsAreNoWayIn(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	a := demo.Answers("en")
	a.Site = b.place().Site
	a.Site.HeightM = 2250
	b.check(b.d.Correct(b.pot(), b.place(), a))
	g, _ := b.d.Gate(id)
	first := stops(g)
	m := b.manager(101)
	l := b.pot().Gauge
	l.SpanMilli = 400_000
	b.put(m, entry.Draft{Kind: model.KindGauge, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}}, Payload: l})
	g, _ = b.d.Gate(id)
	if g.Open() {
		t.Errorf("first %v; with two dials %v: %v, pack %s", first, stops(g), b.d.Release(id, ""), word(b, id))
	}
}

// a test said to have lain in a load that is long over shortens the bad time.
func TestATestIntoAnOldLoadShortensNoBadTime(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(1)
	_, old := b.sterile(1)
	_, bad := b.sterile(1)
	grows := b.spore(bad, zyear, true)
	_, err := b.d.ReadSpore(grows, model.SporeRead{Grew: true})
	b.check(err)
	b.zneg(b.spore(old, zyear, true)) // only now, after the growth, laid into a load that ended before it
	b.zback()
	if s := b.state(early[0]); s.Good() {
		t.Errorf("no negative was ever laid before the growth; the earlier load is %s", s)
	}
}

// any fact that comes after the release takes it away, and nobody can look again.
func TestALateReadingWaitsForSomebody(t *testing.T) {
	p := twoDevices(t)
	packs, id := p.sterile(2)
	p.check(p.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	a := p.other(121, true)
	p.put(a, lateReading(id))
	g, err := p.d.Gate(id)
	p.check(err)
	if s := p.state(packs[1]); s.Good() || slices.Contains(stops(g), "settled") || !p.line("to-confirm") {
		t.Errorf("pack %s, gate %v, to confirm on Today: %v", s, stops(g), p.line("to-confirm"))
	}
}

// the packs of a load that is rejected forty cycles later are named.
func TestAnOldLoadStoppedIsOnToday(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	for range 41 {
		_, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
		b.check(err)
	}
	b.check(b.d.Reject(c, "strip misread"))
	if !b.line("stopped-out") {
		t.Errorf("a load of forty cycles ago is rejected; its pack is %s with the ward; nothing on Today", b.state(packs[0]))
	}
}

func TestARejectedPackStaysOnToday(t *testing.T) {
	b := desk(t)
	_, c := b.sterile(1)
	b.check(b.d.Reject(c, "wet"))
	if !b.line("unwrap") {
		t.Fatal("the rejected pack is not on Today")
	}
	for range 61 {
		_, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
		b.check(err)
	}
	if !b.line("unwrap") {
		t.Error("sixty cycles later the rejected pack that still lies wrapped is off Today")
	}
}

// the clock goes back by half a year, after 201 entries of others or on a new stream: it is doubted, and what expired is not ready again.
func TestAClockSetBackIsDoubtedWhateverCame(t *testing.T) {
	for _, how := range []string{"stick", "new stream"} {
		b := desk(t)
		packs, _ := b.sterile(1)
		day := b.clk.Wall
		b.clk.Pass(200 * 24 * time.Hour)
		b.reboot(time.Minute, time.Time{})
		b.check(b.d.AnswerDate(b.clk.Wall))
		b.check(b.d.TellStock(model.StockTape, 3, true))
		b.reboot(time.Minute, time.Time{})
		b.check(b.d.TellStock(model.StockTape, 3, true))
		if was := b.state(packs[0]); was != work.ShelfExpired {
			t.Fatal(was)
		}
		switch how {
		case "stick":
			a := b.other(131, true)
			var vs []entry.Verified
			for range 201 {
				v, err := a.Sign(stockNote, b.clk.Now(), model.ClockGood)
				b.check(err)
				a.Advance(v)
				vs = append(vs, v)
			}
			_, err := b.d.Store.Receive(vs)
			b.check(err)
		case "new stream":
			a := b.own()
			b.forkAt(a, a.Seq)
		}
		b.reboot(time.Hour, day.AddDate(0, 0, 3))
		s := b.state(packs[0])
		if !b.d.ClockDoubtful() || (s.Good() && s != work.ShelfLabel) {
			t.Errorf("%s: expired pack is %s after the clock went back 197 days; doubt %v", how, s, b.d.ClockDoubtful())
		}
	}
}

func lateReading(id model.ID) entry.Draft {
	return entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(id)}, Payload: model.Readings{Source: model.FromPaper, List: []model.Reading{{At: 60 * 60000, NeedleMilli: 140_000, Answer: model.Stayed}}}}
}

// own is a copy of this device's author, as a copied disk has it.
func (b *bench) own() *entry.Author {
	b.t.Helper()
	key, err := home.LoadKey(home.Disk{}, b.dir, home.DeviceKey)
	b.check(err)
	return b.authorOf(key)
}

// forkAt lets an entry of a copy of this device arrive that has the number seq and follows on something unknown.
func (b *bench) forkAt(a *entry.Author, seq uint64) {
	b.t.Helper()
	a.Seq, a.Head = seq-1, entry.ID{9}
	w, err := a.Sign(stockNote, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
}

// line says whether a line of a code stands on Today.
func (b *bench) line(code string) bool {
	b.t.Helper()
	_, ok := lineOf(b.t, b, code)
	return ok
}

var stockNote = entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}}
