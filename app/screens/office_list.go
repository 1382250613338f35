package screens

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// The rows of the office: where there are many clinics, those of one band of height or of a name, some at a time. Once the rows stand there, the recalls that were ended are read again, one
// after the other, and what was released last month is counted of the clinics that are shown.

// officeList is what of the clinics is shown.
type officeList struct {
	*Stage
	all      []work.Standing
	found    []work.Standing // of these, those that are asked for, worst first
	named    string
	band     int
	most     int // how many are shown
	signs    []*widgets.Row
	months   map[model.ID]string
	rows     *fyne.Container
	reading  *widgets.Para // says how many recalls are left to be read
	turn     int           // the page that it stands on
	counting bool
	looked   bool // at every recall that was ended
	again    bool // one of them is open all the same
}

// uncounted is shown until a month is counted.
const uncounted = "…"

func newOfficeList(s *Stage, all []work.Standing) *officeList {
	l := &officeList{Stage: s, all: all, band: anyBand, most: officeFew, months: map[model.ID]string{}, rows: widgets.NewColumn(), reading: widgets.NewSoft(""), turn: s.Turn + 1}
	l.fill()
	return l
}

// bandM is how high a band of heights is.
const bandM = 500

// Bands that are no heights.
const (
	anyBand = -1
	noBand  = -2 // the height has not come
)

func bandOf(x work.Standing) int {
	if !x.HeightKnown {
		return noBand
	}
	return int(max(0, x.HeightM)) / bandM
}

// finder looks for clinics by any part of their names.
func (l *officeList) finder() fyne.CanvasObject {
	return widgets.NewField(l.Say("office.find"), "", func(text string) {
		l.named, l.most = strings.ToLower(strings.TrimSpace(text)), officeFew
		l.fill()
	})
}

// bands are the heights from the top down, each with how its clinics stand; a tap shows them.
func (l *officeList) bands() fyne.CanvasObject {
	by := map[int][]work.Standing{}
	for _, x := range l.all {
		by[bandOf(x)] = append(by[bandOf(x)], x)
	}
	var bands []int
	for b := range by {
		bands = append(bands, b)
	}
	slices.Sort(bands)
	out := []fyne.CanvasObject{l.bandRow(l.all, anyBand)}
	for _, b := range slices.Backward(bands) {
		out = append(out, l.bandRow(by[b], b))
	}
	return widgets.NewColumn(out...)
}

func (l *officeList) bandName(band int) string {
	switch band {
	case anyBand:
		return l.Say("office.all")
	case noBand:
		return l.Say("office.band.none")
	}
	return l.Say("office.band", strconv.Itoa(band*bandM), strconv.Itoa((band+1)*bandM-1))
}

func (l *officeList) bandRow(of []work.Standing, band int) fyne.CanvasObject {
	_, shape, colour := standingKind(of[0]) // the worst stands first
	return widgets.NewRow(shape, colour, l.bandName(band), l.kinds(of), "", func() {
		l.band, l.most = band, officeFew
		l.fill()
	})
}

// kinds counts how clinics stand.
func (l *officeList) kinds(of []work.Standing) string {
	n := map[string]int{}
	for _, x := range of {
		kind, _, _ := standingKind(x)
		n[kind]++
	}
	var out []string
	for _, kind := range []string{"bad", "silent", "late", "well"} {
		if n[kind] > 0 {
			out = append(out, l.Words.Count("office.kind."+kind, n[kind]))
		}
	}
	return join(out...)
}

// fill shows the rows that are asked for.
func (l *officeList) fill() {
	l.found = slices.DeleteFunc(slices.Clone(l.all), func(x work.Standing) bool {
		return (l.band != anyBand && bandOf(x) != l.band) || !x.Has(l.named)
	})
	shown := min(l.most, len(l.found))
	l.signs, l.rows.Objects = nil, nil
	if len(l.all) > officeFew {
		l.rows.Objects = append(l.rows.Objects, widgets.NewSoft(l.Say("office.shown", l.bandName(l.band), strconv.Itoa(shown), strconv.Itoa(len(l.found)), strconv.Itoa(len(l.all)))))
	}
	for _, x := range l.found[:shown] {
		row := widgets.NewRow(widgets.Disc, widgets.Blue, "", "", "", nil)
		month, ok := l.months[x.ID]
		if !ok {
			month = uncounted
		}
		l.setStanding(row, x, month)
		l.signs, l.rows.Objects = append(l.signs, row), append(l.rows.Objects, row)
	}
	if rest := l.found[shown:]; len(rest) > 0 {
		l.rows.Objects = append(l.rows.Objects, widgets.NewPara(l.Say("office.rest", strconv.Itoa(len(rest)), l.kinds(rest))), widgets.NewButton(l.Say("office.more"), widgets.Plain, func() {
			l.most += 2 * officeFew
			l.fill()
		}))
	}
	if len(l.all) > 0 {
		l.rows.Objects = append(l.rows.Objects, l.reading, widgets.NewSoft(l.Say("office.dash")))
	}
	l.rows.Refresh()
	l.count()
}

// count has the recalls and the months of the rows that are shown counted, one after the other: between two of them the window answers.
func (l *officeList) count() {
	if l.counting {
		return
	}
	l.counting = true
	l.InPieces(l.turn, func() bool {
		l.counting = l.lookAgain() || l.countMonth()
		return l.counting
	})
}

// lookAgain reads one recall that was ended. Where one is open all the same, the clinics stand otherwise.
func (l *officeList) lookAgain() (more bool) {
	if l.looked {
		return false
	}
	left, again, err := l.Desk.EndedRecall()
	l.looked, l.again = left == 0 || err != nil, l.again || again
	l.reading.SetText("")
	if err != nil {
		l.reading.SetText(l.Fault(err))
	} else if left > 0 {
		l.reading.SetText(l.Words.Count("office.reading", left))
	}
	if l.looked && l.again && !l.AtOnce {
		l.Again()
		return false
	}
	l.rows.Refresh()
	return !l.looked
}

func (l *officeList) countMonth() (more bool) {
	for i, row := range l.signs {
		x := l.found[i]
		if _, ok := l.months[x.ID]; ok {
			continue
		}
		l.months[x.ID] = l.releasedOf(l.Desk.LastMonth(x))
		l.setStanding(row, x, l.months[x.ID])
		l.rows.Refresh() // the row may be higher now
		return true
	}
	return false
}
