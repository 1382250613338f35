package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The arrows of the house: which room may import which, and why not more. Anything not listed is
// forbidden. A name ending in * covers what lies below it; "std" is the standard library.
var arrows = []struct {
	room string
	may  []string
	why  string
}{
	{"steam/internal/rows", nil, "reads test tables, nothing else"},
	{"steam/lethality", []string{"mvuke/steam"}, "adding up doses needs saturated steam only"},
	{"steam/pot", []string{"mvuke/steam", "mvuke/steam/lethality"}, "a pot is steam, metal and fire; it knows no record and no person"},
	{"steam", nil, "physics needs nobody; it must be testable and readable alone"},
	{"model/entry", []string{"mvuke/model", "github.com/fxamacker/cbor/v2", "github.com/google/uuid"}, "an envelope knows the nouns it carries, not what they mean"},
	{"model/trust", []string{"mvuke/model", "mvuke/model/entry"}, "who may do what is a pure fold of entries"},
	{"model/register", []string{"mvuke/model", "mvuke/model/entry", "mvuke/model/trust"}, "the fold never computes physics and never sees a disk: two machines must agree"},
	{"model/assess", []string{"mvuke/model", "mvuke/steam", "mvuke/steam/lethality"}, "never steam/pot: the pot model never enters a verdict"},
	{"model/store", []string{"mvuke/model", "mvuke/model/entry", "mvuke/model/trust", "mvuke/model/register", "modernc.org/sqlite*"}, "the only SQL in the tree; it stores entries, it does not judge"},
	{"model", nil, "a stored record must stay readable when a formula is corrected, so the nouns know no steam and no library"},
	{"assets", []string{"golang.org/x/text*"}, "words know nobody"},
	{"app/home", []string{"mvuke/model", "mvuke/model/entry", "golang.org/x/crypto*", "golang.org/x/sys*", "github.com/tyler-smith/go-bip39"}, "the data folder knows files, keys and clocks only"},
	{"app/work", []string{"mvuke/model*", "mvuke/sync*", "mvuke/steam*", "mvuke/app/home", "mvuke/assets", "github.com/google/uuid"}, "no Fyne, no SQL: the window and the headless tool both stand on it"},
	{"app/tables", []string{"mvuke/app/work", "mvuke/model*", "mvuke/steam*", "mvuke/assets", "github.com/xuri/excelize/v2"}, "adapters never import each other"},
	{"app/paper", []string{"mvuke/app/work", "mvuke/model*", "mvuke/steam*", "mvuke/assets", "codeberg.org/go-pdf/fpdf", "github.com/boombuler/barcode*"}, "adapters never import each other; no Fyne on paper"},
	{"app/demo", []string{"mvuke/app/work", "mvuke/app/home", "mvuke/app/practice", "mvuke/model*", "mvuke/steam*", "mvuke/assets"}, "the demo does what a person can do, by the same functions; only the large register for measuring signs in batches, with the folder's own key"},
	{"app/practice", []string{"mvuke/app/work", "mvuke/model*", "mvuke/steam*"}, "practice does what a person can do, on a pot that burns only in memory; no Fyne, so that the headless tool can do it too"},
	{"app/widgets", []string{"fyne.io/fyne/v2*", "golang.org/x/image*"}, "widgets know nothing of the trade"},
	{"app/screens/learn", []string{"mvuke/app/screens", "mvuke/app/screens/pot", "mvuke/app/practice", "mvuke/app/widgets", "mvuke/model*", "mvuke/steam*", "fyne.io/fyne/v2*"}, "practice shows the same screens as the real cycle; it has none of its own for them"},
	{"app/screens*", []string{"mvuke/app/screens", "mvuke/app/work", "mvuke/app/paper", "mvuke/app/tables", "mvuke/app/widgets", "mvuke/model*", "mvuke/steam*", "mvuke/assets", "fyne.io/fyne/v2*"}, "a screen shows and asks; it never opens a window or a file of its own"},
	{"app", []string{"mvuke/app/screens*", "mvuke/app/work", "mvuke/app/practice", "mvuke/app/widgets", "mvuke/model", "mvuke/assets", "fyne.io/fyne/v2*"}, "the shell joins screens; only cmd/mvuke starts the toolkit's driver"},
	{"cmd*", []string{"*"}, ""},
	{"sync/bundle", []string{"mvuke/model", "mvuke/model/entry", "filippo.io/age", "github.com/klauspost/compress/zstd", "github.com/fxamacker/cbor/v2"}, "a file knows no disk, no database and no window: io.Reader and io.Writer only"},
	{"sync/stick", []string{"golang.org/x/sys*"}, "a drive knows bytes and names, not what is in them"},
	{"sync/exchange", []string{"mvuke/model", "mvuke/model/entry", "mvuke/model/trust", "mvuke/sync/bundle", "mvuke/sync/stick", "filippo.io/age", "github.com/tyler-smith/go-bip39/wordlists"}, "the errand between registers sees storage through a small interface of its own"},
	{"sync", nil, "a room with a doc and nothing else: its name hides the standard library's"},
}

// banned everywhere but in one place.
var onlyIn = map[string]struct{ place, why string }{
	"fyne.io/fyne/v2/app": {"cmd/mvuke", "it needs cgo and a display; everything else builds and tests without"},
	"database/sql":        {"model/store", "the only SQL in the tree"},
	"mvuke/steam/pot":     {"app cmd", "the pot model advises and trains; it never enters a verdict"},
}

func covers(pattern, name string) bool {
	if p, ok := strings.CutSuffix(pattern, "*"); ok {
		return name == p || strings.HasPrefix(name, strings.TrimSuffix(p, "/")+"/") || p == ""
	}
	return pattern == name
}

// forbidden gives the reason why a package may not import another; "" if it may.
func forbidden(room, imp string) string {
	if only, ok := onlyIn[imp]; ok && !strings.HasPrefix(room, "cmd/dev/cut") &&
		!slices.ContainsFunc(strings.Fields(only.place), func(p string) bool { return covers(p+"*", room) }) {
		return "only " + only.place + " may: " + only.why
	}
	if first, _, _ := strings.Cut(imp, "/"); !strings.Contains(first, ".") && first != "mvuke" {
		return "" // the standard library
	}
	for _, a := range arrows {
		if !covers(a.room, room) {
			continue
		}
		for _, m := range a.may {
			if covers(m, imp) {
				return ""
			}
		}
		return room + " must not import " + imp + ": " + a.why
	}
	return room + " is no room of the house: add it to the arrows with its reason"
}

func TestArrows(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("../..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel("../..", file)
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".git") || rel == "bin" || rel == "out") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range f.Imports {
			imp, _ := strconv.Unquote(i.Path.Value)
			seen++
			if why := forbidden(path.Dir(filepath.ToSlash(rel)), imp); why != "" {
				t.Errorf("%s: %s", rel, why)
			}
		}
		return nil
	})
	if err != nil || seen < 200 {
		t.Fatalf("%d imports looked at, %v", seen, err)
	}
}

// A check that cannot fail is none.
func TestForbiddenArrowsAreFound(t *testing.T) {
	for _, bad := range [][2]string{
		{"model", "mvuke/steam"}, {"steam/pot", "mvuke/model"}, {"model/assess", "mvuke/steam/pot"}, {"app/practice", "fyne.io/fyne/v2"}, {"model/register", "mvuke/steam"}, {"app/widgets", "mvuke/model"},
		{"app/work", "fyne.io/fyne/v2"}, {"app/screens/pot", "fyne.io/fyne/v2/app"}, {"app/work", "database/sql"}, {"app/paper", "mvuke/app/tables"},
		{"steam", "github.com/google/uuid"}, {"app/screens", "mvuke/app"}, {"attic", "mvuke/model"}, {"sync/bundle", "mvuke/model/store"}, {"sync/stick", "mvuke/model"}, {"sync/exchange", "mvuke/model/store"}, {"model/store", "mvuke/model/assess"},
	} {
		if forbidden(bad[0], bad[1]) == "" {
			t.Errorf("%s -> %s was allowed", bad[0], bad[1])
		}
	}
	if why := forbidden("app/work", "mvuke/model/assess"); why != "" {
		t.Error(why)
	}
}
