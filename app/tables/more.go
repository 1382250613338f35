package tables

import (
	"strconv"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

func setTable(d *work.Desk) ([]string, [][]string, error) {
	sets, err := d.Sets()
	var rows [][]string
	for _, s := range sets {
		for _, p := range s.List.Pieces {
			rows = append(rows, []string{s.List.Name, p.Name, whole(p.Count), yes(p.Essential)})
		}
	}
	return setColumns, rows, err
}

func incidentTable(d *work.Desk) ([]string, [][]string, error) {
	list, err := d.IncidentsOfAll(mostExported)
	var rows [][]string
	for _, x := range list {
		cycle, pack := "", ""
		if !x.Cycle.IsZero() {
			if c, err := d.Cycle(x.Cycle); err == nil {
				cycle = whole(c.Begun.Number)
			}
		}
		if !x.Pack.IsZero() {
			if p, err := d.Pack(x.Pack); err == nil {
				pack = p.Label
			}
		}
		rows = append(rows, []string{sure(x.When, x.Known), string(x.Code), cycle, pack, x.Text, d.Person(x.By.Body().Person).Name, x.Site})
	}
	return []string{"date", "incident", "cycle", "pack", "text", "person", "site"}, rows, err
}

func careTable(d *work.Desk) ([]string, [][]string, error) {
	place, err := d.Place()
	var rows [][]string
	for _, pot := range place.Pots {
		tasks, e := d.Care(pot)
		if e != nil {
			return nil, nil, e
		}
		for _, t := range tasks {
			left := ""
			if t.Ever && t.Known {
				left = whole(t.Left)
			}
			rows = append(rows, []string{pot.Looks.Name, string(t.Code), whole(t.Every), sure(t.Last, t.Ever && t.Known), left, yes(t.AtOnce)})
		}
	}
	return []string{"pot", "task", "every_d", "last", "due_in_d", "before_next_use"}, rows, err
}

func heightTable(d *work.Desk) ([]string, [][]string, error) {
	all, err := d.Heights()
	var rows [][]string
	for _, h := range all {
		at, known := d.ToldOn(h)
		rows = append(rows, []string{sure(at, known), string(h.How), whole(h.HeightM), whole(h.WithinM), yes(h.Present), yes(h.Agrees), yes(h.Settled)})
	}
	return []string{"date", "way", "altitude_m", "within_m", "present", "agrees", "settled"}, rows, err
}

func referenceTable(d *work.Desk) ([]string, [][]string, error) {
	all, err := d.References()
	var rows [][]string
	for _, r := range all {
		rows = append(rows, []string{r.Name, r.Unit, strconv.FormatFloat(float64(r.ErrorMilli)/1000, 'f', -1, 64), r.Certificate, date(time.UnixMilli(r.Due)), yes(r.Overdue)})
	}
	return []string{"reference", "unit", "off_by_at_most", "certificate", "check_due", "overdue"}, rows, err
}

func policyTable(d *work.Desk) ([]string, [][]string, error) {
	rules, err := d.Rules()
	var rows [][]string
	for _, p := range model.DefaultPolicies() {
		x := rules[p.Code]
		rows = append(rows, []string{x.Code, yes(x.On), whole(x.Value), x.Source})
	}
	return []string{"policy", "on", "value", "source"}, rows, err
}

// sure is a date, or nothing where it is in doubt.
func sure(t time.Time, known bool) string {
	if !known {
		return ""
	}
	return date(t)
}

// recallTable has a row a pack: where it is, and what came of looking for it.
func recallTable(d *work.Desk) ([]string, [][]string, error) {
	all, err := d.Recalls()
	if err != nil {
		return nil, nil, err
	}
	names, err := d.SiteNames()
	var rows [][]string
	for _, r := range all {
		row := func(rest ...string) {
			of := []string{whole(r.Number), names[r.Site], string(r.Why), yes(r.Drill), yes(r.Closed), sure(r.At, !r.At.IsZero())}
			rows = append(rows, append(append(append(of, rest...), make([]string, 10-len(rest))...), r.Ended))
		}
		for _, l := range r.Loads {
			for _, q := range l.Squares {
				row(whole(l.Number), yes(l.Test), q.Label, string(q.At), names[q.Site], q.To, yes(q.Found), yes(q.Told), yes(l.Patients && !r.Drill), yes(q.Owed))
			}
			if len(l.Squares) == 0 { // nothing was in it: the recall is there all the same
				row(whole(l.Number), yes(l.Test))
			}
		}
		for range r.Absent { // named, and not here yet
			row("", "", "", "load-not-here")
		}
		if len(r.Loads)+r.Absent == 0 {
			row()
		}
	}
	return []string{"recall", "site", "why", "drill", "closed", "opened", "cycle", "from_here", "pack", "where", "other_site", "to", "found", "clinician_told", "patients_listed", "to_be_told", "ended_because"}, rows, err
}

// days is a number of days; empty: nobody knows.
func days(n int) string {
	if n < 0 {
		return ""
	}
	return whole(int64(n))
}

// siteTable is how each clinic stands, by what has come in; empty: nobody told.
func siteTable(d *work.Desk) ([]string, [][]string, error) {
	all, err := d.Standings()
	var rows [][]string
	for _, s := range all {
		height := ""
		if s.HeightKnown {
			height = whole(s.HeightM)
		}
		row := []string{s.Name, s.Code, height, days(s.StickDays), days(s.NegativeAgo), days(s.GaugeAgo), yes(s.Grew), whole(int64(s.Recalls)), whole(int64(s.InDoubt)), whole(int64(s.Stopped))}
		if s.LastAt.IsZero() { // nothing has come of it: nobody knows
			row = append(row[:6], make([]string, len(row)-6)...)
		}
		rows = append(rows, row)
	}
	return []string{"site", "code", "altitude_m", "stick_d", "negative_test_d", "gauge_compared_d", "spores_grew", "recalls_open", "loads_in_doubt", "loads_stopped"}, rows, err
}
