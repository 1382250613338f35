package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/home"
	"mvuke/app/screens"
	"mvuke/model"
	"mvuke/model/entry"
)

// saidBeside tells of another gauge on a pot not knowing what was said of it before, as a second device does.
func (s *stage) saidBeside(looks model.GaugeLooks) {
	s.t.Helper()
	check := func(err error) {
		s.t.Helper()
		if err != nil {
			s.t.Fatal(err)
		}
	}
	key, err := home.LoadKey(home.Disk{}, s.d.Dir, home.DeviceKey)
	check(err)
	by := entry.NewAuthor(key, s.d.Store.District())
	seq, head, lamport, err := s.d.Store.Resume(by.Stream)
	check(err)
	by.Resume(seq, head, lamport)
	place, err := s.d.Place()
	check(err)
	gauge, pot := model.Ref{Noun: model.NounGauge, ID: s.d.NewID()}, place.Pots[0].Looks
	pot.Gauge, pot.Screwed = gauge.ID, true
	for _, d := range []entry.Draft{{Kind: model.KindGauge, Targets: []model.Ref{gauge}, Payload: looks},
		{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: place.Pots[0].ID}}, Payload: pot}} {
		v, err := by.Sign(d, s.clk.Now(), model.ClockGood)
		check(err)
		by.Advance(v)
		check(s.d.Store.Append(v))
	}
	check(s.d.Close())
}

// Two devices say that different gauges are on the pot: Today asks which, one tap says it, and the pot has a mark again. A slip asks which gauge was watched.
func TestWhichGaugeByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	if open, err := s.d.UnderWay(); err != nil || open == nil {
		t.Fatal(open, err)
	} else if err := s.d.CloseCycle(open.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "the fire went out"}); err != nil {
		t.Fatal(err)
	}
	s.saidBeside(model.GaugeLooks{Serial: "B 77", Unit: "kPa", SpanMilli: 250_000, LineMilli: 5_000, ClassMilli: 1600})
	s = onRegister(t, s.d.Dir, s.clk.Wall)
	s.inWindow("en", fyne.NewSize(1024, 600))
	s.shell.Go(screens.ToToday, model.ID{})
	s.keep("which-today")
	s.tap(s.rowWith("Which gauge is on pot 1?"))
	s.keep("which-gauge")
	if s.rowWith("Gauge no. B 77, to 250 kPa") == "" || s.rowWith("Gauge no. 2207, to 250 kPa") == "" {
		t.Fatal(words(s.win.Content()))
	}
	s.tap(s.rowWith("B 77"))
	s.keep("which-gauge-who")
	person := ""
	if people, err := s.d.People(); err != nil || len(people) == 0 {
		t.Fatal(err)
	} else {
		person = people[0].Person.Name
	}
	s.tap(person)
	place, err := s.d.Place()
	if err != nil || len(place.Pots[0].Also) > 0 || place.Pots[0].Gauge.Serial != "B 77" {
		t.Fatalf("%+v %v", place.Pots[0], err)
	}
	s.keep("which-gauge-then")
	s.tap("OK")
	s.shell.Go(screens.ToSlip, model.ID{})
	s.keep("slip-gauge")
	if text := words(s.win.Content()); !strings.Contains(text, "Gauge that was watched") || s.rowWith("Gauge no. 2207, to 250 kPa") == "" {
		t.Error(text)
	}
}
