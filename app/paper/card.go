package paper

import (
	"io"
	"strconv"
	"time"

	"mvuke/assets"
	"mvuke/model"
	"mvuke/steam"
)

// Card is what a wall card says: one pot at one place.
type Card struct {
	Site       model.Site
	Pot        model.Sterilizer
	Gauge      model.GaugeLooks
	Number     int64
	Item       model.Item
	Plan       model.FrozenPlan
	Allow      []steam.Allowance
	Made       time.Time
	Void       time.Time
	AskMinutes int64
}

// WallCard draws the card.
func WallCard(out io.Writer, w *assets.Words, size Size, c Card) error {
	s := newSheet(w, size, w.Say("card.title", c.Site.Name, c.Pot.Name), c.Made)
	s.page()
	s.pen(ink, 0.8)
	s.Rect(6, 6, pageW-12, pageH-12, "D")
	n := s.text(pageW-margin-30, 22, 14, true, ink, 30, w.Say("card.number", strconv.FormatInt(c.Number, 10)))
	s.text(margin, 22, 24, true, ink, pageW-3*margin-max(n, 30), w.Say("card.title", c.Site.Name, c.Pot.Name))
	s.text(margin, 30, 12, true, vermilion, pageW-2*margin, w.Say("card.only", strconv.FormatInt(c.Site.HeightM, 10), c.Gauge.Serial, c.Plan.Unit, w.Say("item."+string(c.Item))))
	s.text(margin, 36, 10.5, false, soft, pageW-2*margin, w.Say("card.made", w.Day(c.Made), w.Day(c.Void)))
	s.dial(66, 96, 47, c.Plan)
	s.big(126, c)
	y := 164.0
	for i, text := range s.cardSteps(c) {
		s.fill(ink)
		s.Circle(margin+5, y-1.6, 4, "F")
		s.centred(margin+5, y, 10, true, white, strconv.Itoa(i+1))
		s.text(margin+13, y, 13, false, ink, pageW-2*margin-13, text)
		y += 10
	}
	y = s.cautions(y-2, "caution.open", "caution.blocked", "caution.alone", "caution.burn")
	s.text(margin+17, y, 8, false, soft, pageW-2*margin-17, s.cardFoot(c))
	s.endPage()
	return s.finish(out)
}

func (s *sheet) big(x float64, c Card) {
	w, f := s.w, c.Plan
	width := pageW - margin - x
	figure := func(milli int64) string { return w.Number(float64(milli)/1000, 3) }
	s.text(x, 64, 15, false, ink, width, w.Say("card.keep"))
	wide := s.text(x, 87, 58, true, blue, width-18, figure(f.MarkMilli))
	s.text(x+wide+2, 87, 14, false, ink, 17, f.Unit)
	n := s.text(x, 107, 15, false, ink, 0, w.Say("card.for"))
	m := s.text(x+n+4, 107, 44, true, blue, 0, strconv.FormatInt(f.Minutes, 10))
	s.text(x+n+m+8, 107, 15, false, ink, width-n-m-8, w.Say("card.minutes"))
	s.para(x, 119, 13.5, width, true, ink, w.Say("card.below", figure(f.RestartMilli), strconv.FormatInt(f.Minutes, 10)))
	if f.LimitMilli > 0 {
		s.hatch(x-2, 133, width, 14)
		s.fill(white)
		s.Rect(x+1, 135.6, width-6, 8.8, "F")
		s.text(x+4, 142, 14, true, ink, width-12, w.Say("card.never", figure(f.LimitMilli)))
	}
}

func (s *sheet) cardSteps(c Card) []string {
	w := s.w
	args := map[int]string{2: w.Number(float64(c.Pot.LeastWaterML)/1000, 1), 4: strconv.FormatInt(c.Plan.VentMinutes, 10),
		5: w.Number(float64(c.Plan.MarkMilli)/1000, 3), 6: strconv.FormatInt(c.AskMinutes, 10)}
	var out []string
	for i := 1; i <= 10; i++ {
		out = append(out, w.Say("card.step."+strconv.Itoa(i), args[i]))
	}
	return out
}

// cardFoot tells how the mark came about, in the dial's unit.
func (s *sheet) cardFoot(c Card) string {
	u := steam.Unit(c.Plan.Unit)
	decimals := 1
	if u.UsualLine() < 1 {
		decimals = 3
	}
	var site, gauge steam.Over
	for _, a := range c.Allow {
		switch a.Name {
		case "altitude", "weather":
			site += a.Over
		case "gauge":
			gauge += a.Over
		}
	}
	num := func(p steam.Over) string { return s.w.Number(u.Of(p), decimals) }
	return s.w.Say("card.foot", num(steam.Over(c.Plan.NeedPa)), num(site), num(gauge), s.w.Number(float64(c.Plan.MarkMilli)/1000, 3))
}
