package screens

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
	"mvuke/steam"
)

// The second half of the first run: the pot, its gauge, and the person.

// gaugeUnit is the unit chosen on the gauge's step, which comes after the pot's: the plate's
// figures are asked in it, so the pot's step asks for it too.
func (x *setup) unit() steam.Unit {
	i := 0
	for n, u := range steam.DialUnits {
		if x.kept["unit"] == string(u) {
			i = n
		}
	}
	return steam.DialUnits[i]
}

func (x *setup) units(changed func()) *widgets.Choice {
	names, at := []string{}, 0
	for i, u := range steam.DialUnits {
		names = append(names, string(u))
		if u == x.unit() {
			at = i
		}
	}
	x.kept["unit"] = string(x.unit())
	return widgets.NewChoice(names, at, func(i int) {
		x.kept["unit"] = string(steam.DialUnits[i])
		x.Keep(x.scope, "unit")(x.kept["unit"])
		changed()
	})
}

func (x *setup) pot() []fyne.CanvasObject {
	name := x.field("pot", "setup.pot.name", "1")
	hint := x.Say("setup.pot.unit.hint", string(x.unit()))
	limit := x.field("limit", "setup.pot.limit", hint)
	valve := x.field("valve", "setup.pot.valve", hint)
	water := x.field("water", "setup.pot.water", x.Say("setup.pot.water.hint"))
	widgets.Chain(name, limit, valve, water)
	x.next = func() error {
		u := x.unit()
		x.a.Pot.Name = strings.TrimSpace(name.Text())
		if x.a.Pot.Name == "" {
			x.a.Pot.Name = "1"
		}
		var ok bool
		if x.a.Pot.LimitPa, ok = x.plate(limit, u); !ok {
			return errShown
		}
		if x.a.Pot.ValvePa, ok = x.plate(valve, u); !ok {
			return errShown
		}
		if x.a.Pot.LimitPa == 0 && x.a.Pot.ValvePa == 0 {
			limit.SetError(x.Say("refuse.limit"))
			return errShown
		}
		ml, ok := x.Number(water)
		if !ok {
			return errShown
		}
		x.a.Pot.LeastWaterML = ml
		if ml < 500 || ml > 20000 {
			water.SetError(x.Say("refuse.least-water"))
			return errShown
		}
		return nil
	}
	return []fyne.CanvasObject{head(x.Stage, "setup.pot"), widgets.NewPara(x.Say("setup.gauge.unit")), x.units(x.show),
		widgets.NewFlow(300, name, water, limit, valve)}
}

// plate reads a pressure off the plate in the dial's unit; empty is "not there".
func (x *setup) plate(f *widgets.Field, u steam.Unit) (pa int64, ok bool) {
	if strings.TrimSpace(f.Text()) == "" {
		f.SetError("")
		return 0, true
	}
	m, ok := x.Number(f)
	if !ok {
		return 0, false
	}
	p := u.Over(float64(m) / 1000)
	if p < 30e3 || p > 6e5 {
		f.SetError(x.Say("refuse.limit"))
		return 0, false
	}
	return int64(p + 0.5), true
}

var classes = append([]float64{-1}, steam.Classes[3:]...) // finer classes are not found on pots

func (x *setup) gauge() []fyne.CanvasObject {
	span := x.field("span", "setup.gauge.span", string(x.unit()))
	line := x.field("line", "setup.gauge.line", x.Words.Number(x.unit().UsualLine(), 3))
	serial := x.field("serial", "setup.gauge.serial", "")
	widgets.Chain(span, line, serial)
	names := []string{x.Say("setup.gauge.class.none")}
	for _, c := range classes[1:] {
		names = append(names, x.Words.Number(c, 1))
	}
	class := x.pick("class", names, 0)
	x.next = func() error {
		var ok bool
		if x.a.Gauge.SpanMilli, ok = x.Number(span); !ok {
			return errShown
		}
		if x.a.Gauge.LineMilli, ok = x.Number(line); !ok {
			return errShown
		}
		x.a.Gauge.Unit, x.a.Gauge.Serial = string(x.unit()), strings.TrimSpace(serial.Text())
		x.a.Gauge.ClassMilli = int64(classes[max(class.Selected, 0)] * 1000)
		if class.Selected <= 0 {
			x.a.Gauge.ClassMilli = -1
		}
		switch p := x.unit().Over(float64(x.a.Gauge.SpanMilli) / 1000); {
		case p < 50e3 || p > 1.6e6:
			span.SetError(x.Say("refuse.span"))
			return errShown
		case x.a.Gauge.LineMilli <= 0 || x.a.Gauge.LineMilli*4 > x.a.Gauge.SpanMilli:
			line.SetError(x.Say("refuse.line"))
			return errShown
		}
		return nil
	}
	return []fyne.CanvasObject{head(x.Stage, "setup.gauge"), widgets.NewFlow(220, span, line, serial), widgets.NewPara(x.Say("setup.gauge.class")), class}
}

func (x *setup) you() []fyne.CanvasObject {
	name := x.field("you", "who.name", "")
	x.next = func() error {
		x.a.Person = model.Person{Name: strings.TrimSpace(name.Text())}
		if x.a.Person.Name == "" {
			name.SetError(x.Say("refuse.person-name"))
			return errShown
		}
		return nil
	}
	return []fyne.CanvasObject{head(x.Stage, "setup.you"), widgets.NewPara(x.Say("setup.you.hint")), name}
}
