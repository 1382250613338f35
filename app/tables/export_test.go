package tables_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/tables"
	"mvuke/app/work"
	"mvuke/model"
)

// filled is the demo clinic with a stock that was counted.
func filled(t *testing.T) *work.Desk {
	t.Helper()
	d, clk := open(t)
	if err := demo.Fill(d, clk); err != nil {
		t.Fatal(err)
	}
	if err := d.TellStock(model.StockTape, 40, true); err != nil {
		t.Fatal(err)
	}
	return d
}

// empty is the demo clinic just set up.
func empty(t *testing.T) *work.Desk {
	t.Helper()
	d, _ := open(t)
	if err := d.SetUp(demo.Answers("en")); err != nil {
		t.Fatal(err)
	}
	return d
}

func open(t *testing.T) (*work.Desk, *demo.Clock) {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	clk := demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	d, err := work.Open(t.TempDir(), work.Options{Clock: clk})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	return d, clk
}

// Every table is written, reads back as CSV with as many cells in each row, and holds no formula.
func TestTablesAreWrittenOut(t *testing.T) {
	d := filled(t)
	if _, err := d.AddPerson(model.Person{Name: "=HYPERLINK(1)", Roles: []model.Role{model.RoleRecorder}}); err != nil {
		t.Fatal(err)
	}
	for _, name := range tables.Exports {
		var b bytes.Buffer
		if err := tables.Export(&b, d, name); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		rows, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()                                           // refuses rows of another length
		if none := name == "recalls" || name == "sites"; err != nil || (len(rows) < 2 && !none) || len(rows) < 1 { // of these a clinic without a recall, and without a district, has none
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, r := range rows {
			if name == "packs" && (r[2] == "loaded" || r[2] == "rejected" || r[2] == "made") && r[8]+r[9] != "" {
				t.Errorf("a pack that was not released has a date of sterilization: %v", r)
			}
			for _, c := range r {
				if strings.HasPrefix(c, "=") || strings.HasPrefix(c, "@") {
					t.Errorf("%s holds a formula: %s", name, c)
				}
			}
		}
	}
	if err := tables.Export(&bytes.Buffer{}, d, "nothing"); err == nil {
		t.Error("a table of nothing")
	}
}

// A load that was released and is stopped since says what stops it: "released" alone would read as if its packs might be used.
func TestTheTableOfCyclesSaysWhatStops(t *testing.T) {
	d := filled(t)
	ids, err := d.LatestCycles(40)
	if err != nil {
		t.Fatal(err)
	}
	stopped := ""
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Released) > 0 && !c.State.Stopped() {
			if err := d.Stop(id, "the lid was not tight"); err != nil {
				t.Fatal(err)
			}
			stopped = strconv.FormatInt(c.Begun.Number, 10)
			break
		}
	}
	var b bytes.Buffer
	if err := tables.Export(&b, d, "cycles"); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	end, by := slices.Index(rows[0], "end"), slices.Index(rows[0], "stopped_by")
	found := false
	for _, r := range rows[1:] {
		if r[0] == stopped {
			found = true
			if r[end] != "stopped" || r[by] != work.HoldStopped {
				t.Errorf("cycle %s: %q, stopped by %q", r[0], r[end], r[by])
			}
		}
	}
	if !found {
		t.Errorf("cycle %q is not in the table", stopped)
	}
}

// A load in doubt keeps the verdict of its plan in the table, and what its readings show by what was found out since stands beside it.
func TestTheTableOfCyclesSaysWhatReadingsShowSince(t *testing.T) {
	d := filled(t)
	if _, err := d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 3000}); err != nil {
		t.Fatal(err)
	}
	ways, err := d.Heights()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range ways {
		if h.HeightM == 3000 && !h.Present {
			if err := d.SettleHeight(h); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := tables.Export(&b, d, "cycles"); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) int { return slices.Index(rows[0], name) }
	doubted := 0
	for _, r := range rows[1:] {
		doubt := strings.Contains(r[at("stopped_by")], "altitude-doubt")
		since := r[at("readings_show_by_what_was_found_since")]
		if doubt {
			doubted++
		}
		if doubt && (since == "" || since == string(model.Shown)) {
			t.Errorf("cycle %s was planned 1,140 m too low, and by the altitude that holds its readings show %q", r[0], since)
		}
		if !doubt && since != "" {
			t.Errorf("cycle %s: nothing was found out of it, and %q", r[0], since)
		}
		if doubt && r[at("end")] == "released" {
			t.Errorf("cycle %s is in doubt, and its end is %q", r[0], r[at("end")])
		}
	}
	if doubted == 0 {
		t.Error("no load is in doubt")
	}
}
