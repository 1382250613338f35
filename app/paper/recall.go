package paper

import (
	"io"
	"math"
	"strconv"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// RecallNotice draws what is called back: a line a load with its packs by number, and what to do with each. It goes on the wall, into the wards, and with the stick.
func RecallNotice(out io.Writer, w *assets.Words, size Size, site string, r work.Recall, named func(model.ID) string, made time.Time) error {
	s := newSheet(w, size, w.Say("recall.title"), made)
	l := recallSheet{sheet: s, site: site, r: r, made: made}
	title := w.Say("recall.notice")
	if r.Drill {
		title = w.Say("recall.is-drill") + " · " + title
	}
	l.begin(title)
	if !r.Drill && !r.Closed {
		l.y = s.para(margin, l.y, 11, pageW-2*margin, true, ink, w.Say("recall.notice.how")) + 3
	}
	for _, load := range r.Loads {
		test := ""
		if load.Test {
			test = " · " + w.Say("recall.from-here")
		}
		if load.InPot {
			test += " · " + w.Say("recall.in-pot")
		}
		l.room(24) // no name of a load alone at the foot of a page
		s.text(margin, l.y, 12, true, ink, pageW-2*margin, w.Say("knot.cycle", strconv.FormatInt(load.Number, 10))+test)
		l.y += 5.5
		if off := HowFarOff(w, load); off != "" {
			s.text(margin+4, l.y, 9.5, false, soft, pageW-2*margin-4, off)
			l.y += 5
		}
		for _, q := range load.Squares {
			l.room(6)
			s.text(margin+4, l.y, 10.5, true, ink, 30, q.Label)
			what := w.Say("recall.at." + string(q.At))
			if q.Set != "" {
				what = q.Set + " · " + what
			}
			if where := named(q.Site); q.At == work.AtElsewhere && where != "" {
				what += " · " + where
			}
			if q.To != "" {
				what += " · " + q.To
			}
			switch {
			case r.Drill:
			case q.Owed:
				what += " · " + w.Say("recall.to-be-told")
			case q.At == work.AtUsed && q.Told:
				what += " · " + w.Say("recall.told")
			case q.At == work.AtUsed:
				what += " · " + w.Say("recall.not-listed")
			}
			s.text(margin+36, l.y, 10.5, false, ink, 78, what)
			if !q.Found && q.At != work.AtUsed {
				s.pen(ink, 0.3)
				for i, box := range []string{"recall.tick", "recall.tick-lost", "recall.tick-opened"} {
					x := pageW - margin - 62 + float64(i)*21
					s.Rect(x, l.y-3.4, 3.6, 3.6, "D")
					s.text(x+4.6, l.y, 8.5, false, soft, 16, w.Say(box))
				}
			}
			l.y += 6.2
		}
		l.y += 2
	}
	l.sums()
	return l.end(out)
}

// RecallUses draws the list for the clinician: the register numbers of those on whom packs were opened, as far as their notes lie here. It is printed where they lie, and holds no names.
func RecallUses(out io.Writer, w *assets.Words, size Size, site string, r work.Recall, _ func(model.ID) string, made time.Time) error {
	s := newSheet(w, size, w.Say("recall.clinician"), made)
	l := recallSheet{sheet: s, site: site, r: r, made: made}
	l.begin(w.Say("recall.clinician"))
	how := "recall.clinician.how"
	switch {
	case r.Drill:
		how = "recall.clinician.drill"
	case !r.Listed():
		how = "recall.clinician.none"
	}
	l.y = s.para(margin, l.y, 10.5, pageW-2*margin, r.Drill, ink, w.Say(how)) + 3
	if how != "recall.clinician.how" {
		return l.end(out)
	}
	listed := 0
	for _, load := range r.Loads {
		for _, q := range load.Squares {
			if q.At != work.AtUsed || !load.Patients {
				continue
			}
			l.room(8)
			listed++
			number := q.Use
			switch {
			case number == "" && q.Noted:
				number = w.Say("recall.number-there")
			case number == "":
				number = w.Say("recall.no-number")
			}
			s.text(margin, l.y, 13, true, ink, 60, number)
			what := q.Label + " · " + q.Set
			if q.To != "" {
				what += " · " + q.To
			}
			if !q.Day.IsZero() {
				what += " · " + w.Day(q.Day)
			}
			s.text(margin+50, l.y, 10.5, false, ink, 84, what)
			told := w.Say("recall.tick-told")
			if q.Told {
				told = w.Say("recall.told")
			}
			s.pen(ink, 0.3)
			s.Rect(pageW-margin-44, l.y-3.8, 4.2, 4.2, "D")
			s.text(pageW-margin-38, l.y, 9.5, false, soft, 38, told)
			l.y += 7.6
		}
	}
	if rest := r.Sum[work.AtUsed] - listed; rest > 0 {
		l.room(12)
		l.y = s.para(margin, l.y+3, 10.5, pageW-2*margin, false, ink, w.Say("recall.rest.paper", strconv.Itoa(rest)))
	}
	return l.end(out)
}

// recallSheet is a list over as many pages as it takes.
type recallSheet struct {
	*sheet
	site string
	r    work.Recall
	made time.Time
	y    float64
	page int
	head string
}

const recallFoot = pageH - 34

func (l *recallSheet) begin(title string) {
	l.page, l.head = l.page+1, title
	l.sheet.page()
	w := l.w
	l.text(margin, 20, 19, true, ink, pageW-2*margin, title+" "+strconv.FormatInt(l.r.Number, 10)+" · "+l.site)
	why := w.Say("recall.why." + string(l.r.Why))
	if l.r.Drill {
		why = w.Say("recall.is-drill") + " · " + why
	}
	if l.r.Wide && l.r.After > 0 {
		why += " · " + w.Say("recall.leans", strconv.FormatInt(l.r.After, 10), strconv.Itoa(len(l.r.Loads)))
	}
	if !l.r.At.IsZero() {
		why += " · " + w.Day(l.r.At)
	}
	if l.r.Closed {
		why += " · " + w.Say("recall.closed")
	}
	under := l.para(margin, 27, 10.5, pageW-2*margin, false, soft, why+" · "+w.Say("month.made", w.Day(l.made)))
	l.pen(vermilion, 0.8)
	l.Line(margin, under-1, pageW-margin, under-1)
	l.y = under + 7
}

// room turns the page where what comes next would not fit.
func (l *recallSheet) room(high float64) {
	if l.y+high > recallFoot {
		l.foot()
		l.endPage()
		l.begin(l.head)
	}
}

func (l *recallSheet) sums() {
	l.room(12 + 6*float64(len(work.AllWhereabouts)))
	for _, at := range work.AllWhereabouts {
		if n := l.r.Sum[at]; n > 0 {
			l.text(margin, l.y, 12, true, ink, 16, strconv.Itoa(n))
			l.text(margin+18, l.y, 11, false, ink, 120, l.w.Say("recall.at."+string(at)))
			l.y += 6
		}
	}
	l.pen(ink, 0.4)
	l.Line(margin, l.y-3, margin+60, l.y-3)
	l.y += 2
	l.text(margin, l.y, 12, true, ink, 100, l.w.Say("recall.adds-up", strconv.Itoa(l.r.Total)))
}

func (l *recallSheet) foot() {
	l.text(margin, pageH-22, 9.5, false, soft, pageW-2*margin, l.w.Say("recall.signed"))
	l.text(margin, pageH-14, 8, false, soft, pageW-2*margin-20, l.w.Say("caution.line"))
	l.text(pageW-margin-10, pageH-14, 9, false, soft, 0, strconv.Itoa(l.page))
}

func (l *recallSheet) end(out io.Writer) error {
	l.foot()
	l.endPage()
	return l.finish(out)
}

// HowFarOff says what the readings of a load are worth by what was found out since; "" where that is not what it is called back for.
func HowFarOff(w *assets.Words, l work.RecallLoad) string {
	if l.Now == nil {
		return ""
	}
	least := w.Say("recall.unbounded")
	if l.Now.Guaranteed != nil {
		least = w.Number(math.Floor(*l.Now.Guaranteed*10)/10, 1)
	}
	out := w.Say("recall.off", w.Number(math.Floor(l.Now.Held*10)/10, 1), w.Number(l.Now.Asked, 0), w.Number(math.Floor(l.Now.F0*10)/10, 1), least)
	if !l.Patients {
		out += " · " + w.Say("recall.shelf-only")
	}
	return out
}
