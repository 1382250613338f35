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

// table writes one table of a register as CSV: to standard output, or to a file.
func (t *tool) table(args []string) int {
	f := t.flags("table")
	dir := f.String("data", "", "data folder")
	out := f.String("out", "", "file to write; left out: standard output")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if len(f.rest) != 1 || !slices.Contains(tables.Exports, f.rest[0]) {
		return t.bad(fmt.Errorf("name one table: %s", strings.Join(tables.Exports, ", ")))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	draw := func(w io.Writer) error { return tables.Export(w, d, f.rest[0]) }
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
