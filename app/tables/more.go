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
	list, err := d.IncidentList(mostExported)
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
		rows = append(rows, []string{sure(x.When, x.Known), string(x.Code), cycle, pack, x.Text, d.Person(x.By.Body().Person).Name})
	}
	return []string{"date", "incident", "cycle", "pack", "text", "person"}, rows, err
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
