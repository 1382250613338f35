package tables

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strconv"

	"github.com/xuri/excelize/v2"

	"mvuke/app/work"
	"mvuke/assets"
)

// MonthHead are the columns of a month, in their order; units are UCUM.
var MonthHead = []string{"site", "reported", "here_up_to", "stick_ago_d", "lit", "aborted", "held", "released", "rejected", "unknown", "release_rate_%", "packs", "packs_wet", "packs_opened",
	"trials", "vent_mean_min", "hold_mean_min", "spore_negative", "spore_grew", "spore_void", "stock_out_d", "incidents", "recalls_open",
	"water_mean_L", "fire_fed_mean", "clock_set", "recalls_ended", "recall_mean_d", "negative_test_ago_d", "comparison_ago_d"}

// Month makes the table of a month. What was not reported is empty in every column, never zero; only when the last stick came is known all the same.
func Month(m work.Month) Table {
	t := Table{Name: "month " + m.From.Format("2006-01"), Head: MonthHead}
	for _, f := range m.Sites {
		row := []string{f.Name, yes(f.Reported), "", days(f.StickAgo)}
		if !f.UpTo.IsZero() {
			row[2] = date(f.UpTo)
		}
		if !f.Reported {
			t.Rows = append(t.Rows, append(row, make([]string, len(MonthHead)-len(row))...))
			continue
		}
		rate := ""
		if r, ok := f.Rate(); ok {
			rate = strconv.FormatFloat(math.Floor(r*10)/10, 'f', 1, 64)
		}
		short := ""
		if v, ok := f.Short(); ok {
			short = whole(int64(v))
		}
		n := func(v int) string { return whole(int64(v)) }
		t.Rows = append(t.Rows, append(row, n(f.Lit), n(f.Aborted), n(f.Held), n(f.Released), n(f.Rejected), n(f.Unknown), rate, n(f.Packs), n(f.Wet), n(f.Opened),
			n(f.Trials), mean(f.VentMinutes, f.Vents), mean(f.HoldMinutes, f.Holds), n(f.Negatives), n(f.Grew), n(f.Voids), short, n(f.Incidents), n(f.RecallsOpen),
			mean(float64(f.WaterML)/1000, f.Waters), mean(float64(f.Fed), f.Fires), n(f.ClockSet), n(f.RecallsEnded), mean(f.RecallDays, f.RecallsEnded), days(f.NegativeAgo), days(f.ComparedAgo)))
	}
	return t
}

func mean(sum float64, n int) string {
	if n == 0 {
		return ""
	}
	return fixed(sum / float64(n))
}

// MonthCSV writes a month as CSV that no spreadsheet takes for formulas.
func MonthCSV(w io.Writer, m work.Month) error {
	t := Month(m)
	c := csv.NewWriter(w)
	err := c.Write(t.Head)
	for _, r := range t.Rows {
		for i := range r {
			r[i] = harmless(r[i])
		}
		err = errors.Join(err, c.Write(r))
	}
	c.Flush()
	return errors.Join(err, c.Error())
}

// MonthBook writes a month as a workbook, with the definitions on a second sheet.
func MonthBook(out io.Writer, w *assets.Words, m work.Month) (err error) {
	f := excelize.NewFile()
	defer func() { err = errors.Join(err, f.Close()) }()
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	t := Month(m)
	defs := Table{Name: "definitions", Head: []string{"figure", "definition"}}
	for _, d := range Definitions(w) {
		defs.Rows = append(defs.Rows, []string{d.Name, d.Says})
	}
	_, err = f.NewSheet(defs.Name)
	err = errors.Join(err, f.SetSheetName(f.GetSheetName(0), t.Name), fillSheet(f, t, bold), fillSheet(f, defs, bold))
	if err != nil {
		return err
	}
	return f.Write(out)
}

// Definition says what a figure counts.
type Definition struct {
	Name string `json:"name"`
	Says string `json:"definition"`
}

// Definitions are those of the figures of a month, in the reader's language.
func Definitions(w *assets.Words) (out []Definition) {
	for _, key := range []string{"stick", "lit", "aborted", "held", "released", "rejected", "unknown", "rate", "packs", "wet", "opened", "trials", "vent", "hold", "negatives", "grew",
		"voids", "stock-out", "incidents", "recalls", "water", "fed", "clock", "ended", "closing", "negative", "compared"} {
		out = append(out, Definition{key, w.Say("month.def." + key)})
	}
	return out
}
