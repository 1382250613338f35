package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"mvuke/app/tables"
)

// export writes one table of a register as CSV: to standard output, or to a file.
func (t *tool) export(args []string) int {
	f := t.flags("export")
	dir := f.String("data", "", "data folder")
	table := f.String("table", "", strings.Join(tables.Exports, ", "))
	out := f.String("out", "", "file to write; left out: standard output")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if !slices.Contains(tables.Exports, *table) {
		return t.bad(fmt.Errorf("there is no table %q; write --table with one of: %s", *table, strings.Join(tables.Exports, ", ")))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	draw := func(w io.Writer) error { return tables.Export(w, d, *table) }
	if *out == "" {
		if err := draw(t.out); err != nil {
			return t.failed(err)
		}
		return 0
	}
	if !strings.EqualFold(filepath.Ext(*out), ".csv") {
		return t.bad(errors.New("the file's name must end in .csv, so that no other file is written over by a slip"))
	}
	return t.write(f, *out, draw)
}
