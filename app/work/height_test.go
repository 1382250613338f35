package work_test

import (
	"slices"
	"testing"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

func (b *bench) plan() work.Planned {
	b.t.Helper()
	p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	return p
}

// The demo clinic lies at 1860 m by the map, within 50 m. Ways that agree change nothing; one that is higher raises the mark until it is settled; one that is
// lower lowers nothing.
func TestAltitudeIsAskedASecondWay(t *testing.T) {
	b := desk(t)
	before := b.plan().Frozen
	same, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 1880})
	b.check(err)
	if same.WithinM != int64(steam.SurveyWithin) || b.plan().Frozen.RestartMilli != before.RestartMilli || b.plan().Frozen.NeedPa != before.NeedPa {
		t.Errorf("%+v changed the mark", same)
	}
	_, err = b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 1500})
	b.check(err)
	if got := b.plan().Frozen; got.NeedPa < before.NeedPa || got.MarkMilli < before.MarkMilli {
		t.Errorf("a lower altitude lowered the mark: need %d, was %d", got.NeedPa, before.NeedPa)
	}
	_, err = b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 2200})
	b.check(err)
	high := b.plan().Frozen
	if high.LowPa >= before.LowPa || high.RestartMilli <= before.RestartMilli {
		t.Errorf("a higher altitude left the restart line at %d, was %d; least air %d, was %d", high.RestartMilli, before.RestartMilli, high.LowPa, before.LowPa)
	}
	lines := func() (n int) {
		ls, err := b.d.Today()
		b.check(err)
		for _, l := range ls {
			if l.Code == "heights" && l.Urgency == work.Stop {
				n++
			}
		}
		return n
	}
	if lines() != 2 {
		t.Errorf("%d lines on Today for two that differ", lines())
	}
	all, err := b.d.Heights()
	b.check(err)
	b.check(b.d.SettleHeight(all[0])) // the map it is: said in knowledge of the others
	if b.plan().Frozen.RestartMilli != before.RestartMilli || lines() != 0 {
		t.Error("settled, and it still differs")
	}
	if b.place().Site.Name == "" || b.place().Site.HeightM != 1860 {
		t.Errorf("%+v", b.place().Site)
	}
}

// 1800 m by one way and 549 m by another is a slip of feet: no mark is made from both.
func TestAltitudesFarApartGiveNoMark(t *testing.T) {
	b := desk(t)
	_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 567})
	b.check(err)
	if _, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil); code(err) != "heights-apart" {
		t.Errorf("%v", err)
	}
	all, err := b.d.Heights()
	b.check(err)
	i := slices.IndexFunc(all, func(h work.Height) bool { return h.HeightM == 567 })
	b.check(b.d.SettleHeight(all[i]))
	if b.place().Site.HeightM != 567 || b.place().Site.How != model.BySurvey || b.plan().Plan.Refused != nil {
		t.Errorf("%+v", b.place().Site)
	}
}

// Barometer and boiling point against the standard atmosphere: 814.9 hPa at 1800 m, worked out by hand with the formula of ISO 2533; water boils
// there at 94.0 degC (case 7).
func TestAltitudeFromPressureAndBoiling(t *testing.T) {
	b := desk(t)
	h, err := b.d.TellHeight(work.HeightForm{How: model.ByBarometer, Pressure: 81490})
	b.check(err)
	if h.HeightM < 1800-15 || h.HeightM > 1800+15 || h.WithinM < 120 || h.WithinM > 250 {
		t.Errorf("814.9 hPa: %+v", h)
	}
	h, err = b.d.TellHeight(work.HeightForm{How: model.ByBoiling, Boiling: 94.0})
	b.check(err)
	if h.HeightM < 1800-30 || h.HeightM > 1800+30 || h.WithinM < 250 || h.WithinM > 400 {
		t.Errorf("94.0 degC: %+v", h)
	}
	for want, f := range map[string]work.HeightForm{
		"barometer": {How: model.ByBarometer, Pressure: 1013}, "boiling": {How: model.ByBoiling, Boiling: 72},
		"altitude": {How: model.BySurvey, HeightM: 9000}, "height-how": {How: "guess", HeightM: 100},
	} {
		if _, err := b.d.TellHeight(f); code(err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	b.d.Act(nurse)
	if _, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 1200}); code(err) != "in-charge-only" {
		t.Errorf("a recorder told the altitude: %v", err)
	}
}
