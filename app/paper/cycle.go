package paper

import (
	"io"
	"strconv"
	"strings"
	"time"

	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
)

// Told is a cycle with the names and verdict that its sheet prints.
type Told struct {
	Site    model.Site
	Pot     model.Sterilizer
	Cycle   register.Cycle
	Result  assess.Result
	Begun   time.Time
	Packs   []string // each with its word: usable, held...
	Doubt   bool     // the date is in doubt
	By      string   // who loaded
	Settled string   // one sentence: released, rejected, given up; "" while it waits
	Barred  bool     // something stops it, or it was rejected
	Made    time.Time
}

// CycleSheet draws one cycle with its curve, on as many pages as its readings need.
func CycleSheet(out io.Writer, w *assets.Words, size Size, t Told) error {
	s := newSheet(w, size, w.Say("paper.cycle.title", strconv.FormatInt(t.Cycle.Begun.Number, 10)), t.Made)
	s.page()
	width := pageW - 2*margin
	f := t.Cycle.Begun.Plan
	s.text(margin, 18, 18, true, ink, width, w.Say("paper.cycle.title", strconv.FormatInt(t.Cycle.Begun.Number, 10))+" · "+w.Say("card.title", t.Site.Name, t.Pot.Name))
	begun := w.Say("cycle.begun", w.Day(t.Begun), w.Clock(t.Begun), t.By)
	if t.Doubt {
		begun += " · " + w.Say("cycle.doubt")
	}
	y := 25.0
	if t.Barred && t.Settled != "" { // before all that its readings show: whoever reads one line of the sheet reads this
		y = s.para(margin, 27, 15, width, true, vermilion, t.Settled) + 1
	}
	s.text(margin, y, 10.5, false, soft, width, begun+" · "+w.Say("pot.height", strconv.FormatInt(f.HeightM, 10))+" · "+w.Say("item."+string(t.Cycle.Begun.Item)))
	y = s.para(margin, y+6, 10.5, width, true, blue, s.keepLine(Card{Plan: f}))
	s.curve(margin, y, width, 62, t)
	y += 72
	y = s.verdict(margin, y, width, t)
	y = s.para(margin, y+2, 10, width, false, ink, w.Say("cycle.packs", strings.Join(t.Packs, ", ")))
	if t.Settled != "" && !t.Barred {
		y = s.para(margin, y+1, 11, width, true, ink, t.Settled)
	}
	s.readings(margin, y+3, width, t)
	s.cautions(pageH-34, "caution.open", "caution.chamber")
	s.endPage()
	return s.finish(out)
}

func (s *sheet) verdict(x, y, width float64, t Told) float64 {
	w, r := s.w, t.Result
	c := map[model.Verdict]rgb{model.Shown: blue, model.NotKnown: ink, model.Failed: vermilion}[r.Verdict]
	title := verdictLine(w, r.Verdict)
	if t.Cycle.Begun.Practice {
		c, title = vermilion, w.Say("learn.site")+" · "+title
	}
	size := 15.0
	if t.Barred && r.Verdict == model.Shown {
		c, size, title = ink, 11, w.Say("verdict.day")+" · "+title
	}
	s.text(x, y, size, true, c, width, title)
	y += 6
	figures := []string{w.Say("verdict.held", Tenth(r.Held), strconv.FormatFloat(r.Asked, 'f', -1, 64)),
		w.Say("verdict.equivalent", Tenth(r.E121)), w.Say("verdict.f0", Tenth(r.F0))}
	if r.Guaranteed != nil {
		figures = append(figures, w.Say("verdict.guaranteed", Tenth(*r.Guaranteed)))
	} else {
		figures = append(figures, w.Say("verdict.unbounded"))
	}
	figures = append(figures, w.Say("verdict.rule", r.Rule))
	y = s.para(x, y, 9.5, width, false, soft, strings.Join(figures, " · "))
	for _, reason := range r.Reasons {
		y = s.para(x, y, 10, width, false, ink, "– "+w.Say("reason."+reason.Code, reason.Args...))
	}
	return y
}

// verdictLine speaks of the readings: what they show holds if the air is out; what they deny, anyway.
func verdictLine(w *assets.Words, v model.Verdict) string {
	if v == model.Failed {
		return w.Say("verdict." + string(v))
	}
	return w.Say("verdict."+string(v)) + " · " + w.Say("verdict.if")
}

// Tenth writes a figure rounded down to a tenth: never to the friendly side.
func Tenth(v float64) string { return strconv.FormatFloat(float64(int64(v*10))/10, 'f', 1, 64) }

// readings lists the looks in columns as small as they need to be.
func (s *sheet) readings(x, y, width float64, t Told) {
	rs := t.Cycle.Readings
	if len(rs) == 0 {
		return
	}
	s.text(x, y, 10, true, ink, 0, s.w.Say("cycle.readings"))
	const columns = 3
	room := pageH - 38 - y
	rows := (len(rs) + columns - 1) / columns
	step := min(4.6, room/float64(rows+1))
	for i, r := range rs {
		col, row := i/rows, i%rows
		line := s.w.Say("cycle.reading", Tenth(float64(r.At)/60000), short(r.NeedleMilli), t.Cycle.Begun.Plan.Unit)
		if a := answer(s.w, t.Cycle.Begun.Plan, r); a != "" {
			line += " · " + a
		}
		s.text(x+float64(col)*width/columns, y+step*float64(row+1), min(8.5, step*2), false, ink, width/columns-2, line)
	}
}

func short(milli int64) string { return strconv.FormatFloat(float64(milli)/1000, 'f', -1, 64) }

func answer(w *assets.Words, f model.FrozenPlan, r model.Reading) string {
	switch r.Answer {
	case model.Stayed:
		return w.Say("cycle.reading.stayed", short(f.RestartMilli))
	case model.Dipped:
		return w.Say("cycle.reading.dipped", short(r.LowestMilli))
	case model.LookedAway:
		return w.Say("cycle.reading.away")
	}
	return ""
}

// curve draws the needle over time with the steps below it and the restart line across.
func (s *sheet) curve(x, y, width, height float64, t Told) {
	f := t.Cycle.Begun.Plan
	last, top := 1.0, float64(max(f.MarkMilli, f.RestartMilli))*1.15
	for _, r := range t.Cycle.Readings {
		last, top = max(last, float64(r.At)), max(top, float64(r.NeedleMilli)*1.05)
	}
	for _, st := range t.Cycle.Steps {
		if st.Code != model.StepDried && st.Code != model.StepCooled {
			last = max(last, float64(st.At))
		}
	}
	base := y + height - 8
	px := func(ms int64) float64 { return x + 3 + (width-6)*min(1, float64(ms)/last) }
	py := func(milli int64) float64 { return base - (height-14)*float64(milli)/top }
	s.pen(pale, 0.4)
	s.Rect(x, y, width, height, "D")
	s.pen(blue, 0.4)
	s.SetDashPattern([]float64{1.5, 1.2}, 0)
	s.Line(x+3, py(f.RestartMilli), x+width-3, py(f.RestartMilli))
	s.SetDashPattern(nil, 0)
	s.text(x+4, py(f.RestartMilli)-1, 7, false, blue, 0, short(f.RestartMilli)+" "+f.Unit)
	s.pen(ink, 0.7)
	s.fill(ink)
	rs, rest := withRest(t.Cycle), t.Cycle.Begun.RestMilli
	for i, r := range rs {
		if i > 0 {
			if r.At-rs[i-1].At > f.GapMinutes*60000 && r.NeedleMilli > rest && rs[i-1].NeedleMilli > rest {
				s.SetDashPattern([]float64{1, 1}, 0)
			}
			s.Line(px(rs[i-1].At), py(rs[i-1].NeedleMilli), px(r.At), py(r.NeedleMilli))
			s.SetDashPattern(nil, 0)
		}
		s.Circle(px(r.At), py(r.NeedleMilli), 0.7, "F")
	}
	end := x - 1
	for _, st := range t.Cycle.Steps {
		if float64(st.At) > last {
			continue
		}
		s.pen(pale, 0.3)
		s.Line(px(st.At), base, px(st.At), base+1.5)
		if label := s.w.Say("step." + string(st.Code)); px(st.At) > end+1 {
			s.SetFont("noto", "", 7)
			lx := min(px(st.At), x+width-s.GetStringWidth(label)-1)
			if lx > end+1 {
				end = lx + s.text(lx, base+5, 7, false, soft, 0, label)
			}
		}
	}
}

// withRest adds to the looks what the steps say of the needle: on rest while the air valve is open,
// and where zero was seen.
func withRest(c register.Cycle) []model.Reading {
	var out []model.Reading
	rest := c.Begun.RestMilli
	if s, ok := c.Step(model.StepVentEnd); ok {
		out = append(out, model.Reading{NeedleMilli: rest}, model.Reading{At: s.At, NeedleMilli: rest})
	}
	out = append(out, c.Readings...)
	if s, ok := c.Step(model.StepZero); ok {
		out = append(out, model.Reading{At: s.At, NeedleMilli: rest})
	}
	return out
}
