package pot

import (
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// Slip is the paper slip's page: its lines stand in the order of the paper.
func Slip(s *screens.Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return screens.Page(s.Say("slip.title"), "", widgets.NewPara(s.Fault(err)))
	}
	const scope = "slip"
	kept := s.Draft(scope)
	f := newForm(s, scope)
	field := func(name, label, hint string) *widgets.Field {
		x := widgets.NewField(s.Say(label), hint, nil)
		x.SetText(kept[name])
		x.WhenChanged(s.Keep(scope, name))
		return x
	}
	day, hour := field("day", "slip.day", s.Say("slip.day.hint")), field("hour", "slip.hour", s.Say("slip.hour.hint"))
	from, to := field("from", "slip.from", "18"), field("to", "slip.to", "29")
	out, zero, opened := field("out", "slip.out", ""), field("zero", "slip.zero", ""), field("opened", "slip.opened", "")
	looks := widgets.NewLines(s.Say("slip.looks"), s.Say("slip.looks.hint"), kept["looks"], s.Keep(scope, "looks"))
	gauge, gauges, err := watched(s, place.Pots[0])
	if err != nil {
		return screens.Page(s.Say("slip.title"), "", widgets.NewPara(s.Fault(err)))
	}
	save := widgets.NewButton(s.Say("slip.save"), widgets.Do, func() {
		b, ok := f.read()
		if !ok {
			return
		}
		slip := work.Slip{Begin: b}
		if gauge != nil {
			slip.Gauge = gauges[max(0, gauge.Selected)]
		}
		if slip.Lit, err = time.ParseInLocation("2006-01-02 15:04", strings.TrimSpace(day.Text())+" "+strings.TrimSpace(hour.Text()), time.Local); err != nil {
			day.SetError(s.Say("clock.bad"))
			s.Message(s.Say("clock.bad")) // the field may be out of sight
			return
		}
		day.SetError("")
		for _, n := range []struct {
			f    *widgets.Field
			into *float64
		}{{from, &slip.VentFrom}, {to, &slip.VentTo}, {out, &slip.SteamOut}, {zero, &slip.Zero}, {opened, &slip.Opened}} {
			if !minute(s, n.f, n.into) {
				return
			}
		}
		slip.ZeroSeen = strings.TrimSpace(zero.Text()) != ""
		bad := 0
		if slip.Looks, bad = readLooks(looks.Text()); bad > 0 {
			s.Message(s.Say("slip.bad-look", strconv.Itoa(bad)))
			return
		}
		s.WithPerson(func() {
			id, err := s.Desk.TypeIn(place.Pots[0], place.Site, slip)
			if s.Tell(err) {
				f.drop()
				s.Go(screens.ToRelease, id)
			}
		})
	})
	body := append([]fyne.CanvasObject{widgets.NewFlow(220, day, hour)}, f.objects()...)
	if gauge != nil {
		body = append(body, widgets.NewPara(s.Say("slip.gauge")), gauge)
	}
	body = append(body, widgets.NewPara(s.Say("slip.vent")), widgets.NewFlow(220, from, to), looks, widgets.NewFlow(200, out, zero, opened), save, s.Caution())
	return screens.Page(s.Say("slip.title"), "", body...)
}

// watched asks which gauge was watched at the fire, where the pot has had several; nil: it has had one.
func watched(s *screens.Stage, pot work.Pot) (ask *widgets.Choice, ids []model.ID, err error) {
	all, err := s.Desk.KnownGauges(pot)
	if err != nil || len(all) < 2 {
		return nil, nil, err
	}
	names, ids := []string{s.Say("slip.gauge.day")}, []model.ID{{}}
	for _, p := range all {
		names, ids = append(names, s.DialOf(p)), append(ids, p.Looks.Gauge)
	}
	return widgets.NewChoice(names, 0, nil), ids, nil
}

// minute reads an optional minute; empty is zero.
func minute(s *screens.Stage, f *widgets.Field, into *float64) bool {
	f.SetError("")
	if strings.TrimSpace(f.Text()) == "" {
		return true
	}
	v, err := steam.Number(f.Text())
	if err != nil || v < 0 || v > 24*60 {
		f.SetError(s.Say("refuse.number"))
		s.Message(s.Say("refuse.number"))
		return false
	}
	*into = v
	return true
}

// readLooks reads one look a line: minute, needle, lowest. bad is the first line that is none.
func readLooks(text string) (out []work.SlipLook, bad int) {
	for i, line := range strings.Split(text, "\n") {
		cells := strings.Fields(line)
		if len(cells) == 0 {
			continue
		}
		if len(cells) < 2 || len(cells) > 3 {
			return out, i + 1
		}
		var n [3]float64
		for j, c := range cells {
			v, err := steam.Number(c)
			if err != nil {
				return out, i + 1
			}
			n[j] = v
		}
		l := work.SlipLook{Minute: n[0], Needle: model.MilliDown(n[1])}
		if len(cells) == 3 {
			low := model.MilliDown(n[2])
			l.Lowest = &low
		}
		out = append(out, l)
	}
	return out, 0
}
