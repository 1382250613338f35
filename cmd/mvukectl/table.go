package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"mvuke/app/tables"
)

// table writes one table of a register as CSV to standard output or to a file, or one or all of them to a workbook (XLSX).
func (t *tool) table(args []string) int {
	f := t.flags("table")
	f.word = true
	dir := f.String("data", "", "data folder")
	out := f.String("out", "", "file to write; left out: standard output")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	book := strings.EqualFold(filepath.Ext(*out), ".xlsx")
	names := f.rest
	if book && len(names) == 0 {
		names = tables.Exports
	}
	for _, n := range names {
		if !slices.Contains(tables.Exports, n) {
			names = nil
		}
	}
	if len(names) == 0 || (len(names) > 1 && !book) {
		return t.bad(wrong("one-table", strings.Join(tables.Exports, ", ")))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	draw := func(w io.Writer) error {
		if book {
			return tables.Workbook(w, d, names)
		}
		return tables.Export(w, d, names[0])
	}
	if *out == "" {
		if err := draw(t.out); err != nil {
			return t.failed(err)
		}
		return 0
	}
	if !book && !strings.EqualFold(filepath.Ext(*out), ".csv") {
		return t.bad(wrong("table-ending"))
	}
	return t.write(f, *out, draw)
}
