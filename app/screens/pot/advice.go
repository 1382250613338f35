package pot

import (
	"image/color"
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	body "mvuke/steam/pot"
)

// advice is the line that helps at the fire: what is urgent first, always marked as advice, with where it comes
// from. It says nothing where there is nothing to say.
func (r *Run) advice() (fyne.CanvasObject, func()) {
	n := widgets.NewNotice(widgets.InkSoft, "", "")
	before := ""
	write := func() {
		as, err := r.Desk.Advice(r.cycle, r.result.Running)
		if err != nil {
			r.Note(err.Error())
			return
		}
		if len(as) == 0 {
			n.Hide()
			return
		}
		title, detail := r.inWords(as)
		if title+detail == before {
			return // nothing is drawn anew for nothing
		}
		before = title + detail
		n.SetColor(urgency(as[0]))
		n.SetText(title, detail)
		n.Show()
		r.panel.Refresh() // it may be taller now
	}
	write()
	return n, write
}

// inWords is the advice as it is read: the first as the title, the others and where it comes from below.
func (r *Run) inWords(as []body.Advice) (title, detail string) {
	for _, a := range as[1:] {
		detail += r.advise(a) + " · "
	}
	from := r.Say("advice.typical")
	if as[0].Own {
		from = r.Say("advice.own")
	}
	return r.Say("advice.title", r.advise(as[0])), detail + from
}

func urgency(a body.Advice) color.Color {
	switch {
	case !a.Urgent:
		return widgets.Blue
	case a.Code == body.DoNotOpen || a.Code == body.EarlyRise || a.Code == body.OverLimit:
		return widgets.Vermilion
	}
	return widgets.Amber
}

// advise is one piece of advice; minutes are whole, and at least one. What runs out is rounded down, what is to be done
// longer is rounded up.
func (r *Run) advise(a body.Advice) string {
	var args []string
	for _, v := range a.Args {
		if a.Code == body.VentLonger || a.Code == body.DryBorderline || a.Code == body.DryWet {
			v = math.Ceil(v)
		}
		args = append(args, strconv.Itoa(max(int(v), 0)))
	}
	return r.Say("advice."+string(a.Code), args...)
}
