// Package rows reads the tables of check values under testdata for tests.
package rows

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Row is one line of a table, by column name.
type Row struct {
	t    testing.TB
	File string
	Line int
	cell map[string]string
}

// Load reads testdata/steam/name from a package that lies `up` folders below the top; it fails
// the test on a missing or empty table, and on a row without provenance or source.
func Load(t testing.TB, up, name string) []Row {
	t.Helper()
	f, err := os.Open(filepath.Join(up, "testdata", "steam", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	var out []Row
	for i, cells := range all[1:] {
		row := Row{t: t, File: name, Line: i + 1, cell: map[string]string{}}
		for j, c := range cells {
			row.cell[all[0][j]] = c
		}
		if row.cell["source"] == "" || row.cell["provenance"] == "" {
			t.Fatalf("%s row %d has no source or provenance", name, i+1)
		}
		out = append(out, row)
	}
	return out
}

// Text is the cell as written.
func (r Row) Text(col string) string {
	r.t.Helper()
	c, ok := r.cell[col]
	if !ok {
		r.t.Fatalf("%s has no column %q", r.File, col)
	}
	return c
}

// Has says whether the cell is filled.
func (r Row) Has(col string) bool { return r.Text(col) != "" }

// Num is the cell as a number.
func (r Row) Num(col string) float64 {
	r.t.Helper()
	v, err := strconv.ParseFloat(r.Text(col), 64)
	if err != nil {
		r.t.Fatalf("%s row %d column %s: %v", r.File, r.Line, col, err)
	}
	return v
}

// Near fails the test unless got lies within tol of the cell.
func (r Row) Near(col string, got, tol float64) {
	r.t.Helper()
	want := r.Num(col)
	if d := got - want; !(d <= tol && -d <= tol) {
		r.t.Errorf("%s row %d %s: got %.8g, want %.8g within %.3g (%s, %s)",
			r.File, r.Line, col, got, want, tol, r.Text("provenance"), r.Text("source"))
	}
}
