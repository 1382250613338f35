package paper

import (
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// figure is one column of the month: its name in the catalogue, and how it is written; missing is a dash, never a zero.
type figure struct {
	key   string
	value func(f work.Figures) (float64, bool)
}

func whole(get func(work.Figures) int) func(work.Figures) (float64, bool) {
	return func(f work.Figures) (float64, bool) { return float64(get(f)), f.Reported }
}

// monthFigures are in the order of the report; each has a definition in the catalogue.
var monthFigures = []figure{
	{"lit", whole(func(f work.Figures) int { return f.Lit })}, {"aborted", whole(func(f work.Figures) int { return f.Aborted })},
	{"held", whole(func(f work.Figures) int { return f.Held })}, {"released", whole(func(f work.Figures) int { return f.Released })},
	{"rejected", whole(func(f work.Figures) int { return f.Rejected })}, {"unknown", whole(func(f work.Figures) int { return f.Unknown })},
	{"rate", work.Figures.Rate}, {"wet", whole(func(f work.Figures) int { return f.Wet })}, {"negatives", whole(func(f work.Figures) int { return f.Negatives })},
	{"grew", whole(func(f work.Figures) int { return f.Grew })}, {"stock-out", func(f work.Figures) (float64, bool) { n, ok := f.Short(); return float64(n), ok }}, {"recalls", whole(func(f work.Figures) int { return f.RecallsOpen })},
}

// write is a figure as it stands on the sheet.
func (x figure) write(w *assets.Words, f work.Figures) string {
	v, ok := x.value(f)
	switch {
	case !ok:
		return "–"
	case x.key == "rate":
		return w.Number(math.Floor(v*10)/10, 1)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}

// MonthReport draws a month: a page for the district, then one for each clinic of which the month is here. stock is that of each clinic: what it asks to be ordered stands on its page, and the sum
// of all on the first.
func MonthReport(out io.Writer, w *assets.Words, size Size, district string, m work.Month, stock map[model.ID][]work.Item, made time.Time) error {
	s := newSheet(w, size, w.Say("month.title"), made)
	s.page()
	s.monthHead(w.Say("month.title")+" · "+district, m, w.Say("month.reported", strconv.Itoa(m.Reported), strconv.Itoa(len(m.Sites))), made)
	y := s.monthTable(58, m)
	all := toOrder{}
	for _, items := range stock {
		all.add(items)
	}
	y = s.orders(s.worst(y+8, m), all)
	if names := uncounted(m, stock); len(names) > 0 {
		y = s.para(margin+3, y+10, 9.5, pageW-2*margin-3, false, soft, w.Say("stock.list.without", strings.Join(names, ", ")))
	}
	s.definitions(y+8, made)
	s.endPage()
	for _, f := range m.Sites {
		if f.Reported && len(m.Sites) > 1 {
			s.page()
			s.monthHead(w.Say("month.title")+" · "+f.Name, m, w.Say("month.up-to", w.Day(f.UpTo)), made)
			own := toOrder{}
			own.add(stock[f.Site])
			s.orders(s.worst(s.site(f)+8, work.Month{Sites: []work.Figures{f}}), own)
			s.endPage()
		}
	}
	return s.finish(out)
}

func (s *sheet) monthHead(title string, m work.Month, line string, made time.Time) {
	s.text(margin, 20, 19, true, ink, pageW-2*margin, title)
	if m.Lasts {
		line = s.w.Say("month.lasts") + " · " + line
	}
	s.text(margin, 28, 12, false, soft, pageW-2*margin, s.w.Say("month.of", s.w.Say("month."+strconv.Itoa(int(m.From.Month()))), strconv.Itoa(m.From.Year()))+" · "+line)
	s.pen(ink, 0.6)
	s.Line(margin, 32, pageW-margin, 32)
}

// monthTable has a row a clinic, and one for all that reported.
func (s *sheet) monthTable(y float64, m work.Month) float64 {
	const first, column = 44.0, 11.5
	x := func(i int) float64 { return margin + first + float64(i)*column }
	for i, f := range monthFigures {
		s.TransformBegin()
		s.TransformRotate(52, x(i)+3, y)
		s.text(x(i)+3, y, 8.5, true, soft, 26, s.w.Say("month.fig."+f.key))
		s.TransformEnd()
	}
	y += 6
	row := func(name string, f work.Figures, bold bool) {
		s.text(margin, y, 10.5, bold, ink, first-3, name)
		for i, fig := range monthFigures {
			s.text(x(i)+2, y, 10.5, bold, ink, column-2, fig.write(s.w, f))
		}
		s.pen(pale, 0.2)
		s.Line(margin, y+2.2, pageW-margin, y+2.2)
		y += 6.4
	}
	sum := work.Figures{Reported: m.Reported > 0}
	for _, f := range m.Sites {
		if y > pageH-40 {
			s.endPage()
			s.page()
			y = 24
		}
		row(f.Name, f, false)
		sum.Add(f)
	}
	row(s.w.Say("month.all", strconv.Itoa(m.Reported), strconv.Itoa(len(m.Sites))), sum, true)
	return y
}

func (s *sheet) worst(y float64, m work.Month) float64 {
	gaps, unheard := m.Worst(math.MaxInt), m.Unheard()
	worst := gaps[:min(3, len(gaps))]
	if len(worst)+len(unheard) == 0 {
		return y
	}
	s.text(margin, y, 12, true, ink, 0, s.w.Say("month.worst"))
	more := len(gaps) - len(worst)
	for _, g := range worst {
		y += 6.4
		said := g.Site + ": " + s.w.Say("gap."+g.Code, g.Args...)
		for _, o := range gaps[len(worst):] { // what is grave of the same clinic stands with it
			if o.Site == g.Site && o.Grave() {
				said, more = said+" · "+s.w.Say("gap."+o.Code, o.Args...), more-1
			}
		}
		s.text(margin+3, y, 11, false, ink, pageW-2*margin-3, said)
	}
	if more > 0 {
		y += 6.4
		s.text(margin+3, y, 11, false, soft, pageW-2*margin-3, s.w.Say("gap.more", strconv.Itoa(more)))
	}
	if len(unheard) > 0 {
		y = s.para(margin+3, y+6.4, 11, pageW-2*margin-3, false, ink, s.w.Say("gap.not-reported", strings.Join(unheard, ", "))) - 5
	}
	return y
}

// toOrder is how many of each consumable are to be ordered.
type toOrder map[model.Consumable]int64

func (o toOrder) add(items []work.Item) {
	for _, it := range items {
		o[it.What] += it.Order()
	}
}

// uncounted are the clinics of which nothing is on the order list, since nobody counts there, or nothing of the month is here.
func uncounted(m work.Month, stock map[model.ID][]work.Item) (names []string) {
	for _, f := range m.Sites {
		if !f.Reported || !slices.ContainsFunc(stock[f.Site], func(it work.Item) bool { return it.Known }) {
			names = append(names, f.Name)
		}
	}
	return names
}

// orders is what is to be ordered, in one paragraph.
func (s *sheet) orders(y float64, o toOrder) float64 {
	var lines []string
	for _, what := range model.Consumables {
		if n := o[what]; n > 0 {
			lines = append(lines, s.w.Say("stock."+string(what))+": "+strconv.FormatInt(n, 10))
		}
	}
	if len(lines) == 0 {
		return y
	}
	s.text(margin, y+10, 12, true, ink, 0, s.w.Say("stock.list"))
	return s.para(margin+3, y+16, 10.5, pageW-2*margin-3, false, ink, strings.Join(lines, "   "))
}

// definitions say what each figure counts, so that nobody compares what is not alike.
func (s *sheet) definitions(y float64, made time.Time) {
	if y+float64(len(monthFigures))*4.2 > pageH-12 {
		s.endPage()
		s.page()
		y = 22
	}
	s.text(margin, y, 10, true, soft, 0, s.w.Say("month.defs"))
	for _, f := range monthFigures {
		y += 4.4
		s.text(margin, y, 8.4, true, ink, 26, s.w.Say("month.fig."+f.key))
		s.text(margin+28, y, 8.4, false, ink, pageW-2*margin-28, s.w.Say("month.def."+f.key))
	}
	s.text(margin, y+6, 8, false, soft, pageW-2*margin, s.w.Say("month.made", s.w.Day(made)))
}

// site is the page of one clinic: every figure large, with what it counts. It gives the line that follows.
func (s *sheet) site(f work.Figures) float64 {
	y := 46.0
	for _, fig := range monthFigures {
		s.text(margin, y, 18, true, ink, 26, fig.write(s.w, f))
		s.text(margin+30, y-1.5, 11.5, true, ink, pageW-2*margin-30, s.w.Say("month.fig."+fig.key))
		s.text(margin+30, y+3.4, 8.6, false, soft, pageW-2*margin-30, s.w.Say("month.def."+fig.key))
		s.pen(pale, 0.2)
		s.Line(margin, y+5.6, pageW-margin, y+5.6)
		y += 13
	}
	mean := func(sum float64, n int) string {
		if n == 0 {
			return "–"
		}
		return s.w.Number(math.Floor(sum/float64(n)*10)/10, 1)
	}
	s.text(margin, y, 11, false, ink, pageW-2*margin, s.w.Say("month.minutes", mean(f.VentMinutes, f.Vents), mean(f.HoldMinutes, f.Holds)))
	s.text(margin, y+7, 11, false, ink, pageW-2*margin, s.w.Say("month.more", strconv.Itoa(f.Packs), strconv.Itoa(f.Opened), strconv.Itoa(f.Trials), strconv.Itoa(f.Incidents)))
	ago := func(days int) string {
		if days < 0 {
			return "–"
		}
		return strconv.Itoa(days)
	}
	s.text(margin, y+14, 11, false, ink, pageW-2*margin, s.w.Say("month.ago", ago(f.NegativeAgo), ago(f.ComparedAgo), mean(f.RecallDays, f.RecallsEnded)))
	s.text(margin, y+21, 11, false, ink, pageW-2*margin, s.w.Say("month.used", mean(float64(f.WaterML)/1000, f.Waters), mean(float64(f.Fed), f.Fires), strconv.Itoa(f.ClockSet)))
	s.text(margin, pageH-14, 8, false, soft, pageW-2*margin, s.w.Say("caution.line"))
	return y + 21
}
