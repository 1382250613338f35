package main

import (
	"encoding/json"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/app/paper"
	"mvuke/app/tables"
	"mvuke/app/work"
)

// report writes a month: a sheet (PDF), a workbook (XLSX), CSV, or JSON with the definitions of its figures.
func (t *tool) report(args []string) int {
	f := t.flags("report")
	dir := f.String("data", "", "data folder")
	month := f.String("month", "", "month, such as 2027-03")
	out := f.String("out", "", "file to write: .pdf, .xlsx or .csv; left out: JSON on standard output")
	size := f.String("paper", "A4", "A4 or A5")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	at, err := time.Parse("2006-01", *month)
	if err != nil {
		return t.bad(wrong("month", *month))
	}
	if now, err := d.Date(); err != nil {
		return t.failed(err)
	} else if at.After(now) {
		return t.bad(wrong("month-future", *month))
	}
	paperSize, err := paper.ParseSize(*size)
	if err != nil {
		return t.bad(err)
	}
	m, err := d.MonthOf(at.Year(), at.Month())
	if err != nil {
		return t.failed(err)
	}
	if m.Reported == 0 {
		f.say("%s", t.words.Say("month.none"))
	}
	if *out == "" {
		return t.print(monthOut(m, tables.Definitions(t.words)))
	}
	draw := map[string]func(io.Writer) error{
		".pdf": func(w io.Writer) error {
			p, err := d.Place()
			if err != nil {
				return err
			}
			stock, err := d.Orders(m)
			if err != nil {
				return err
			}
			return paper.MonthReport(w, t.words, paperSize, p.Site.Name, m, stock, d.Clock.Now().Wall)
		},
		".xlsx": func(w io.Writer) error { return tables.MonthBook(w, t.words, m) },
		".csv":  func(w io.Writer) error { return tables.MonthCSV(w, m) },
	}[strings.ToLower(filepath.Ext(*out))]
	if draw == nil {
		return t.bad(wrong("report-ending"))
	}
	return t.write(f, *out, draw)
}

// monthOut is a month for other programs: what was not reported is null.
func monthOut(m work.Month, defs []tables.Definition) map[string]any {
	t := tables.Month(m)
	rows := []map[string]any{}
	for _, r := range t.Rows {
		x := map[string]any{}
		for i, h := range t.Head {
			x[h] = nil
			if r[i] == "" {
				continue
			}
			x[h] = r[i]
			if v, err := strconv.ParseFloat(r[i], 64); err == nil && i > 2 {
				x[h] = json.Number(strconv.FormatFloat(v, 'f', -1, 64))
			}
		}
		rows = append(rows, x)
	}
	return map[string]any{"month": m.From.Format("2006-01"), "reported": m.Reported, "sites": len(m.Sites), "figures": rows, "definitions": defs}
}

// lookback shows the loads of a pot that something found out later puts in doubt, each judged anew; with --settle it answers for them.
func (t *tool) lookback(args []string) int {
	f := t.flags("lookback")
	dir := f.String("data", "", "data folder")
	person := f.String("person", "", "with --settle or --dates: name of the one in charge")
	settle := f.String("settle", "", "reason: clear by name what still stands, and call the rest back")
	dates := f.String("dates", "", "reason: free what stands because it was lit before another gauge came on; whoever says so answers for the dates")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	open := func() (*work.Desk, error) {
		if *settle != "" || *dates != "" {
			return t.acting(*dir, *person)
		}
		return openDesk(*dir)
	}
	d, err := open()
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	place, err := d.Place()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	if len(place.Pots) == 0 {
		return t.lookbackAt(f, d)
	}
	for _, pot := range place.Pots {
		all, err := d.InDoubt(pot.ID)
		if err != nil {
			return t.failed(err)
		}
		for _, l := range all {
			out = append(out, map[string]any{"pot": pot.Looks.Name, "cycle": l.Cycle.Begun.Number, "was": l.Was.Verdict, "is": l.Now.Verdict, "stands": l.Stands, "why": l.Codes, "line": l.Now.Line,
				"unit": l.Cycle.Begun.Plan.Unit, "held_min": l.Now.Held, "f0_min": l.Now.F0, "f0_guaranteed_min": l.Now.Guaranteed, "patients_listed": !l.Stands && l.Patients(), "called_back": l.Called})
			t.sayLookedBack(f, l)
		}
		if len(all) == 0 {
			f.say("%s: %s", t.words.Say("load.pot", pot.Looks.Name), t.words.Say("lookback.none"))
		}
		if *settle != "" && len(all) > 0 {
			came, err := d.SettleDoubt(pot.ID, *settle)
			if err != nil {
				return t.failed(err)
			}
			f.say("%s", t.words.Say("lookback.settled", strconv.Itoa(came.Stood), strconv.Itoa(came.Called)))
			if came.Dates > 0 {
				f.say("%s", t.words.Say("refuse.dates-first", strconv.Itoa(came.Dates)))
			}
		}
		if *dates != "" && len(all) > 0 {
			freed, err := d.SettleByDates(pot.ID, *dates)
			if err != nil {
				return t.failed(err)
			}
			f.say("%s", t.words.Say("lookback.settled", strconv.Itoa(freed), "0"))
		}
	}
	f.say("%s", t.words.Say("caution.line"))
	return t.print(map[string]any{"in_doubt": out})
}

// sayLookedBack says what became of a load in doubt in one line.
func (t *tool) sayLookedBack(f *flags, l work.LookedBack) {
	said := []string{t.words.Say("lookback.falls")}
	if l.Stands {
		said[0] = t.words.Say("lookback.stands")
	}
	if next := l.Next(); next != "" {
		said = append(said, t.words.Say(next))
	}
	f.say("%s: %s; %s", t.words.Say("knot.cycle", strconv.FormatInt(l.Cycle.Begun.Number, 10)), strings.Join(said, ", "),
		t.words.Say("lookback.verdicts", t.words.Say("lookback."+string(l.Was.Verdict)), t.words.Say("lookback."+string(l.Now.Verdict))))
}

// lastTo is where a pack went last, by name.
func lastTo(p work.PackView) string {
	for _, m := range slices.Backward(p.Moves) {
		if m.To != "" {
			return m.To
		}
	}
	return ""
}

// lookbackAt says at an office, which has no pot, how many loads are in doubt at each clinic; they are looked back on where their pot is.
func (t *tool) lookbackAt(f *flags, d *work.Desk) int {
	all, err := d.Standings()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	for _, s := range all {
		if s.InDoubt > 0 {
			out = append(out, map[string]any{"site": s.Name, "loads_in_doubt": s.InDoubt})
			f.say("%s: %s", s.Name, t.words.Count("office.doubt", s.InDoubt))
		}
	}
	f.say("%s", t.words.Say("lookback.where"))
	return t.print(map[string]any{"clinics": out})
}
