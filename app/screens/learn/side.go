package learn

import (
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/model"
)

// rates of the practice clock, and where it begins.
var rates = []float64{0, 1, 10, practice.Fastest}

const (
	firstRate = 1 // while the form is filled in
	burnRate  = 2
)

// band is the head of practice: that it is practice, which lesson, how fast time goes, and the way out.
func (v *View) band() fyne.CanvasObject {
	v.head = widgets.NewStrong("")
	v.speed = widgets.NewLevels([]string{v.s.Say("learn.stand"), "1×", "10×", "60×"}, firstRate, func(i int) { v.x.Clock.SetRate(rates[i]) })
	v.x.Clock.SetRate(rates[firstRate])
	end := widgets.NewButton(v.s.Say("learn.end"), widgets.Plain, func() {
		if !v.begun {
			v.End()
			return
		}
		widgets.AskHarm(v.s.Win, v.s.Say("learn.end"), v.s.Say("learn.end.ask"), v.s.Say("do.yes"), v.s.Say("do.no"), func(yes bool) {
			if yes {
				v.End()
			}
		})
	})
	return widgets.NewInset(6, 4, widgets.NewPair(v.head, widgets.NewPair(v.speed.Box, end, 0.62, 56), 0.4, 56))
}

func (v *View) title(minutes int) string {
	what := v.s.Say("learn.free")
	for i, l := range practice.Lessons {
		if l.Code == v.x.Lesson.Code {
			what = strconv.Itoa(i+1) + " · " + v.s.Say("lesson."+l.Code)
		}
	}
	return v.s.Say("learn.head", what, strconv.Itoa(minutes))
}

// hearthSide is the pot with all that can be touched at it.
func (v *View) hearthSide() fyne.CanvasObject {
	s, x := v.s, v.x
	v.hearth = widgets.NewHearth(widgets.HearthSpec{Lid: true, Water: 0.7})
	v.dial = widgets.NewDial(v.dialSpec(0), nil)
	v.state = widgets.NewPara("")
	flap := widgets.NewLevels([]string{s.Say("learn.flap.shut"), s.Say("learn.flap.little"), s.Say("learn.flap.half"), s.Say("learn.flap.open")}, 3, x.Flap)
	v.valve = widgets.NewLevels([]string{s.Say("learn.valve.shut"), s.Say("learn.valve.little"), s.Say("learn.valve.open")}, 2, x.Valve)
	var fire, other *widgets.Button
	v.lit = func() {
		a, b := "learn.light", "learn.water"
		if x.Lit() {
			a, b = "learn.feed", "learn.draw"
		}
		fire.SetText(s.Say(a))
		other.SetText(s.Say(b))
	}
	fire = widgets.NewButton(s.Say("learn.light"), widgets.Plain, func() {
		if x.Lit() {
			x.Feed()
		} else {
			x.Light()
		}
	})
	other = widgets.NewButton(s.Say("learn.water"), widgets.Plain, func() {
		if x.Lit() {
			x.Draw()
		} else {
			s.Message(s.Say(x.Pour()))
		}
	})
	v.card = widgets.NewButton(s.Say("setup.correct"), widgets.Quiet, func() { v.show(screens.ToCorrect, model.ID{}) })
	v.doubt = widgets.NewButton(s.Say("learn.doubt"), widgets.Plain, func() { x.Doubt(); v.Tick() })
	return widgets.NewScroll(widgets.NewColumn(
		widgets.NewPair(v.hearth, v.dial, 0.5, 0.56), v.state,
		widgets.NewSoft(s.Say("learn.valve")), v.valve.Box, widgets.NewSoft(s.Say("learn.flap")), flap.Box,
		widgets.NewPair(fire, other, 0.5, 56), v.doubt, v.card, widgets.NewPara(aim(s, x.Lesson)),
		widgets.NewSoft(s.Say("learn.place", strconv.FormatInt(x.HeightM(), 10), s.Words.Number(float64(x.BoilingNow()), 1)))))
}
