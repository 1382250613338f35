package tables_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"mvuke/app/tables"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

var english = assets.For("en")

// Lists are read from what spreadsheets write: a byte order mark, semicolons, quotation marks, empty lines.
func TestListsAreRead(t *testing.T) {
	for name, text := range map[string]string{
		"commas":     "set,piece,count,needed\ndelivery,cord scissors,1,yes\ndelivery,\"bowl, small\",2,no\n\nsuture,needle holder,,\n",
		"semicolons": "\ufeffSet;Piece;Count;Needed\r\ndelivery;cord scissors;1;oui\r\nDelivery;bowl, small;2;non\r\n;;;\r\nsuture;needle holder;;\r\n",
	} {
		got, bad, err := tables.ReadList("sets", strings.NewReader(text), english)
		if err != nil || len(bad) > 0 || len(got.Sets) != 2 {
			t.Fatalf("%s: %+v %v %v", name, got, bad, err)
		}
		want := []model.Piece{{Name: "cord scissors", Count: 1, Essential: true}, {Name: "bowl, small", Count: 2}}
		if s := got.Sets[0]; s.Name != "delivery" || fmt.Sprint(s.Pieces) != fmt.Sprint(want) || !got.Sets[1].Pieces[0].Essential {
			t.Errorf("%s: %+v", name, got.Sets)
		}
	}
	got, bad, err := tables.ReadList("people", strings.NewReader("name,roles,language\nNeema,releaser,fr\n'=Otto,,\n"), english)
	if err != nil || len(bad) > 0 || len(got.People) != 2 || got.People[0].Roles[0] != model.RoleReleaser || got.People[1].Name != "=Otto" || got.People[1].Roles[0] != model.RoleRecorder {
		t.Errorf("%+v %v %v", got.People, bad, err)
	}
	got, bad, err = tables.ReadList("stock", strings.NewReader("left,consumable\n12,tape\n0,seals\n"), english)
	if err != nil || len(bad) > 0 || len(got.Stock) != 2 || got.Stock[0].Amount != 12 || !got.Stock[1].Counted {
		t.Errorf("%+v %v %v", got.Stock, bad, err)
	}
}

// Every line that cannot be is named by its number, all of them at once.
func TestBadLinesAreNamed(t *testing.T) {
	for _, c := range []struct{ kind, text, want string }{
		{"sets", "", "1 empty"},
		{"sets", "set,piece\nset,pi\xe8ce\n", "1 encoding"},
		{"sets", "set,piece\n", "1 nothing"},
		{"sets", "set,thing\nx,y\n", "1 column 1 column-missing 2 set-piece"},
		{"sets", "piece,count\nx,1\n", "1 column-missing 2 set-piece"},
		{"sets", "set,piece,count,needed\na,b,0,yes\na,c,1,perhaps\na,,1,yes\na,d,51,yes\na,e,1,yes,more\na,f,1,\na,F,1,\n", "2 count 3 needed 4 set-piece 5 count 6 wide 8 piece-twice"},
		{"sets", "set,piece\na,bottle of oil\na,closed tin\n", "2 never 3 never"},
		{"sets", "set,piece\na,\"b\nc,d\n", "2 unread"},
		{"sets", "set,piece,count\na,b,50\na,c,50\na,d,50\n", "4 set-large"},
		{"people", "name,roles\n,recorder\nA,chief\nB,officer\nC,\nc,\n", "2 name 3 role 4 role 6 name-twice"},
		{"people", "name,language\nA,xx\n", "2 language"},
		{"stock", "consumable,left\nglue,1\ntape,many\ntape,-1\nseals,1\nseals,2\n", "2 consumable 3 left 4 left 6 consumable-twice"},
	} {
		_, bad, err := tables.ReadList(c.kind, strings.NewReader(c.text), english)
		var got []string
		for _, p := range bad {
			got = append(got, fmt.Sprint(p.Line, " ", p.Code))
			for _, lang := range assets.Languages() {
				if w := assets.For(lang); !w.Has("bring." + p.Code) {
					t.Errorf("%s has no sentence for %q", lang, p.Code)
				} else if s := w.Say("bring."+p.Code, p.Args...); strings.Contains(s, "{") {
					t.Errorf("%s: an argument is missing: %s", lang, s)
				}
			}
		}
		if strings.Join(got, " ") != c.want || err != nil {
			t.Errorf("%q:\n got %s\nwant %s (%v)", c.text, strings.Join(got, " "), c.want, err)
		}
	}
	if _, _, err := tables.ReadList("cats", strings.NewReader("x"), english); err == nil {
		t.Error("a list of cats")
	}
	large := "set,piece\n" + strings.Repeat("a,b\n", 1<<20)
	if _, bad, err := tables.ReadList("sets", strings.NewReader(large), english); err != nil || len(bad) != 1 || bad[0].Code != "large" {
		t.Errorf("%d %v", len(bad), err)
	}
}

// What was taken out of one register goes into another, all of it or nothing.
func TestListsGoRoundAndNothingIsHalfTaken(t *testing.T) {
	from := filled(t)
	to := empty(t)
	for _, kind := range tables.Kinds {
		var b bytes.Buffer
		if err := tables.Export(&b, from, kind); err != nil {
			t.Fatal(err)
		}
		lists, bad, err := tables.ReadList(kind, bytes.NewReader(b.Bytes()), english)
		if kind == "people" { // the one who set both up stands in both
			if err := to.TakeLists(lists); err == nil {
				t.Error("somebody is on the tiles twice")
			}
			if people, _ := to.People(); len(people) != 1 {
				t.Errorf("a file that was refused left %d people", len(people))
			}
			lists.People = lists.People[1:]
		}
		if err != nil || len(bad) > 0 {
			t.Fatalf("%s: %v %v", kind, bad, err)
		}
		if err := to.TakeLists(lists); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
	a, _ := from.Sets()
	b, _ := to.Sets()
	if len(a) == 0 || len(a) != len(b) || fmt.Sprint(a[0].List) != fmt.Sprint(b[0].List) {
		t.Errorf("%d sets, and then %d", len(a), len(b))
	}
	items, err := to.Stock()
	if err != nil || !items[0].Known {
		t.Errorf("%+v %v", items[0], err)
	}
	if err := to.TakeLists(work.Lists{Sets: []model.SetList{{Name: "new", Pieces: []model.Piece{{Name: "x", Count: 1}}}, a[0].List}}); err == nil {
		t.Error("a set list was written over")
	}
	if again, _ := to.Sets(); len(again) != len(b) {
		t.Error("half of a refused file was taken")
	}
}

// The workbook opens in a reader of another's making, has a sheet a table, and no formula in it.
func TestWorkbook(t *testing.T) {
	d := filled(t)
	if _, err := d.AddPerson(model.Person{Name: "=HYPERLINK(1)", Roles: []model.Role{model.RoleRecorder}}); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := tables.Workbook(&b, d, tables.Exports); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if got := f.GetSheetList(); fmt.Sprint(got) != fmt.Sprint(tables.Exports) {
		t.Errorf("sheets %v", got)
	}
	for _, name := range tables.Exports {
		table, err := tables.Read(d, name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := f.GetRows(name)
		if err != nil || len(rows) != len(table.Rows)+1 {
			t.Errorf("%s: %d rows of %d, %v", name, len(rows), len(table.Rows)+1, err)
		}
		for i := range rows {
			for j := range rows[i] {
				at, _ := excelize.CoordinatesToCellName(j+1, i+1)
				if formula, _ := f.GetCellFormula(name, at); formula != "" {
					t.Errorf("%s %s is a formula: %s", name, at, formula)
				}
			}
		}
	}
	if kind, _ := f.GetCellType("cycles", "A2"); kind != excelize.CellTypeNumber && kind != excelize.CellTypeUnset {
		t.Errorf("the number of a cycle is no number: %v", kind)
	}
	if kind, _ := f.GetCellType("packs", "A2"); kind == excelize.CellTypeNumber {
		t.Error("the number of a pack was taken for a figure")
	}
}
