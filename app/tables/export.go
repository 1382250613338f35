package tables

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Table is one table of a register, for reading by others. Dates are ISO 8601; units stand in the names of the columns (UCUM). Words
// are codes, the same in every language.
type Table struct {
	Name string
	Head []string
	Rows [][]string
}

// writers make the tables, by name.
var writers = map[string]func(*work.Desk) ([]string, [][]string, error){
	"packs": packTable, "cycles": cycleTable, "spores": sporeTable, "stock": stockTable, "people": peopleTable, "sets": setTable,
	"incidents": incidentTable, "care": careTable, "altitudes": heightTable, "references": referenceTable, "policies": policyTable,
	"recalls": recallTable, "sites": siteTable,
}

// Exports are the names of the tables, in the order of a workbook.
var Exports = []string{"packs", "cycles", "spores", "stock", "people", "sets", "incidents", "care", "altitudes", "references", "policies", "recalls", "sites"}

// mostExported bounds a table.
const mostExported = 100_000

// Read makes one table.
func Read(d *work.Desk, name string) (t Table, err error) {
	write, ok := writers[name]
	if !ok {
		return t, fmt.Errorf("there is no table %q; there are: %s", name, strings.Join(Exports, ", "))
	}
	t.Name = name
	t.Head, t.Rows, err = write(d)
	return t, err
}

// Export writes one table as CSV that no spreadsheet takes for formulas.
func Export(w io.Writer, d *work.Desk, name string) error {
	t, err := Read(d, name)
	if err != nil {
		return err
	}
	c := csv.NewWriter(w)
	for _, r := range slices.Concat([][]string{t.Head}, t.Rows) {
		for i := range r {
			r[i] = harmless(r[i])
		}
		if err := c.Write(r); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// harmless keeps a spreadsheet from taking a cell for a formula. A number stays a number.
func harmless(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	return "'" + s
}

func packTable(d *work.Desk) ([]string, [][]string, error) {
	ps, err := d.FindPacks("", mostExported)
	if err != nil {
		return nil, nil, err
	}
	names, err := d.SiteNames()
	var rows [][]string
	for _, p := range ps {
		r := []string{p.Label, p.Set, string(p.State), "", "", "", "", "", "", ""}
		if m := p.Made; m != nil {
			r[3], r[4], r[5], r[6] = whole(m.Present), whole(m.Listed), string(m.Wrap), date(time.UnixMilli(m.At))
		}
		if p.HasCycle {
			r[7] = whole(p.Cycle.Begun.Number)
		}
		if p.Known && p.Answer.Word == register.Usable { // what may not be used has no date of sterilization
			r[8] = date(p.Sterilized)
			if !p.LastDay.IsZero() {
				r[9] = date(p.LastDay)
			}
		}
		rows = append(rows, append(r, string(p.Where()), yes(p.Answer.Override), names[p.House], names[p.At]))
	}
	return []string{"number", "set", "state", "pieces", "pieces_listed", "wrap", "packed", "cycle", "sterilized", "last_day", "where", "released_not_known", "site", "now_at"}, rows, err
}

func cycleTable(d *work.Desk) ([]string, [][]string, error) {
	all, err := d.CyclesOfAll(mostExported)
	if err != nil {
		return nil, nil, err
	}
	var cycles []register.Cycle
	for _, x := range all {
		cycles = append(cycles, x.Cycle)
	}
	stopped, err := d.StoppedBy(cycles...)
	if err != nil {
		return nil, nil, err
	}
	var rows [][]string
	for _, x := range all {
		c := x.Cycle
		r, e := d.Judge(c)
		if e != nil {
			return nil, nil, e
		}
		began, known, e := d.Began(c)
		if e != nil {
			return nil, nil, e
		}
		when := ""
		if known {
			when = date(began)
		}
		end := "open"
		switch {
		case c.Aborted():
			end = "given-up"
		case len(c.Rejected) > 0:
			end = "rejected"
		case c.ToConfirm:
			end = "to-confirm"
		case len(c.Released) > 0 && len(stopped[c.State.Ref.ID]) > 0:
			end = "stopped"
		case len(c.Released) > 0:
			end = "released"
		}
		since, guaranteedNow := "", ""
		if slices.ContainsFunc(register.Codes(c.State.Holds), func(code string) bool { return slices.Contains(register.Doubts, code) }) {
			back, e := d.LookBack(c.State.Ref.ID)
			if e != nil {
				return nil, nil, e
			}
			since, guaranteedNow = string(back.Now.Verdict), minutes(back.Now.Guaranteed)
			if back.Unread() {
				since, guaranteedNow = string(model.NotKnown), ""
			}
		}
		rows = append(rows, []string{whole(c.Begun.Number), when, string(c.Begun.Item), whole(int64(len(c.Begun.Packs))), string(r.Verdict), fixed(r.Held), fixed(r.Asked),
			minutes(r.Guaranteed), fixed(r.F0), fixed(float64(c.Begun.WaterML) / 1000), end, strings.Join(slices.Sorted(slices.Values(register.Codes(stopped[c.State.Ref.ID]))), " "), yes(c.Begun.Practice), x.Site, since, guaranteedNow})
	}
	return []string{"cycle", "date", "item", "packs", "readings_show_by_its_plan", "held_min", "planned_min", "f0_guaranteed_min", "f0_121.1Cel_min", "water_L", "end", "stopped_by", "practice", "site", "readings_show_by_what_was_found_since", "f0_guaranteed_by_what_was_found_since_min"}, rows, err
}

// minutes is a figure that may not be bounded.
func minutes(v *float64) string {
	if v == nil {
		return ""
	}
	return fixed(*v)
}

func sporeTable(d *work.Desk) ([]string, [][]string, error) {
	ts, err := d.SporeTestsOfAll(mostExported)
	var rows [][]string
	for _, t := range ts {
		hours, degrees := "", ""
		if t.Read != nil {
			hours, degrees = whole(t.Read.Hours), whole(t.Read.Degrees)
		}
		rows = append(rows, []string{whole(t.Number), date(time.UnixMilli(t.Placed.At)), t.Placed.Lot, date(time.UnixMilli(t.Placed.Expires)), yes(t.Placed.Control), string(t.Said), hours, degrees, t.Placed.SentTo, t.Site})
	}
	return []string{"cycle", "placed", "lot", "lot_good_until", "control", "result", "incubated_h", "incubated_Cel", "sent_to", "site"}, rows, err
}

func stockTable(d *work.Desk) ([]string, [][]string, error) {
	items, err := d.Stock()
	var rows [][]string
	for _, it := range items {
		left, counted, days := "", "", ""
		if it.Known {
			left, counted = whole(it.Left), date(it.Counted)
		}
		if it.Days >= 0 {
			days = whole(it.Days)
		}
		missing := ""
		if it.Known || it.OutDays > 0 { // of what nobody counts nobody knows
			missing = whole(int64(it.OutDays))
		}
		rows = append(rows, []string{string(it.What), left, counted, days, missing})
	}
	return []string{"consumable", "left", "counted", "lasts_d", "missing_of_30_d"}, rows, err
}

func peopleTable(d *work.Desk) ([]string, [][]string, error) {
	people, err := d.People()
	var rows [][]string
	for _, p := range people {
		var roles []string
		for _, r := range p.Person.Roles {
			roles = append(roles, string(r))
		}
		t, e := d.Training(p.ID)
		if e != nil {
			return nil, nil, e
		}
		rows = append(rows, []string{p.Person.Name, strings.Join(roles, " "), yes(p.Gone), whole(int64(len(t.Lessons))), t.By})
	}
	return []string{"name", "roles", "left", "lessons", "signed_off_by"}, rows, err
}

func whole(n int64) string { return strconv.FormatInt(n, 10) }

// fixed rounds down to a tenth: nothing is made longer by writing it out.
func fixed(v float64) string {
	return strconv.FormatFloat(float64(model.MilliDown(v)/100)/10, 'f', 1, 64)
}

func date(t time.Time) string { return t.Format(time.DateOnly) }

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
