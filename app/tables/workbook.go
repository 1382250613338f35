package tables

import (
	"errors"
	"io"
	"slices"
	"strconv"

	"github.com/xuri/excelize/v2"

	"mvuke/app/work"
)

// figures are the columns that hold numbers; in all others a figure is a name, and stays as it was written.
var figures = []string{"pieces", "pieces_listed", "cycle", "packs", "held_min", "planned_min", "f0_guaranteed_min", "f0_guaranteed_by_what_was_found_since_min", "f0_121.1Cel_min", "water_L", "incubated_h", "incubated_Cel",
	"left", "lasts_d", "missing_of_30_d", "lessons", "count", "every_d", "due_in_d", "altitude_m", "within_m", "off_by_at_most", "value",
	"lit", "aborted", "held", "released", "rejected", "unknown", "release_rate_%", "packs_wet", "packs_opened", "trials", "vent_mean_min", "hold_mean_min", "spore_negative",
	"recall", "stick_d", "negative_test_d", "gauge_compared_d", "loads_in_doubt", "spore_grew", "spore_void", "stock_out_d", "incidents", "recalls_open"}

// Workbook writes tables as sheets of one workbook (XLSX, ISO/IEC 29500). No cell is a formula; a date is text in ISO 8601.
func Workbook(w io.Writer, d *work.Desk, names []string) (err error) {
	f := excelize.NewFile()
	defer func() { err = errors.Join(err, f.Close()) }()
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for i, name := range names {
		t, err := Read(d, name)
		if err != nil {
			return err
		}
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), name)
		} else {
			_, err = f.NewSheet(name)
		}
		if err := errors.Join(err, fillSheet(f, t, bold)); err != nil {
			return err
		}
	}
	return f.Write(w)
}

func fillSheet(f *excelize.File, t Table, bold int) error {
	s, err := f.NewStreamWriter(t.Name)
	if err != nil {
		return err
	}
	err = errors.Join(s.SetColWidth(1, len(t.Head), 16), s.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	row := func(n int, cells []any) {
		at, e := excelize.CoordinatesToCellName(1, n)
		err = errors.Join(err, e, s.SetRow(at, cells))
	}
	var head []any
	for _, h := range t.Head {
		head = append(head, excelize.Cell{Value: h, StyleID: bold})
	}
	row(1, head)
	for i, r := range t.Rows {
		var cells []any
		for j, c := range r {
			if v, e := strconv.ParseFloat(c, 64); e == nil && slices.Contains(figures, t.Head[j]) {
				cells = append(cells, v)
			} else {
				cells = append(cells, c)
			}
		}
		row(i+2, cells)
	}
	return errors.Join(err, s.Flush())
}
