package assets

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var holes = regexp.MustCompile(`\{\d\}`)

func TestEveryLanguageSaysEverything(t *testing.T) {
	for _, lang := range Languages() {
		if a, b := Keys(Fallback), Keys(lang); !slices.Equal(a, b) {
			t.Errorf("%s: keys differ from English", lang)
			for _, k := range a {
				if !slices.Contains(b, k) {
					t.Errorf("%s lacks %q", lang, k)
				}
			}
		}
		for _, k := range Keys(Fallback) {
			en, own := holes.FindAllString(Raw(Fallback, k), -1), holes.FindAllString(Raw(lang, k), -1)
			slices.Sort(en)
			slices.Sort(own)
			if !slices.Equal(slices.Compact(en), slices.Compact(own)) {
				t.Errorf("%s %q: arguments %v, English has %v", lang, k, own, en)
			}
		}
	}
}

// used finds the keys that the code names: literals handed to Say, Count and the like, and the
// prefixes that are completed with a code.
func used(t *testing.T) (keys, prefixes map[string]bool, words []string) {
	keys, prefixes = map[string]bool{}, map[string]bool{}
	for _, dir := range []string{".", "../app", "../cmd/mvuke", "../cmd/mvukectl"} {
		err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch x := n.(type) {
				case *ast.BinaryExpr:
					if s, ok := literal(x.X); ok && strings.HasSuffix(s, ".") {
						prefixes[s] = true
					}
				case *ast.BasicLit:
					if s, ok := literal(x); ok {
						keys[s] = true
						if strings.Contains(p, "/screens") || strings.Contains(p, "/paper") {
							words = append(words, p+": "+s)
						}
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return keys, prefixes, words
}

func literal(e ast.Expr) (string, bool) {
	b, ok := e.(*ast.BasicLit)
	if !ok || b.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(b.Value)
	return s, err == nil
}

// A sentence is two words with a space between: none may stand in the code of screens and sheets.
func TestNoWordLivesInTheCode(t *testing.T) {
	sentence := regexp.MustCompile(`[A-Za-zÀ-ÿ]{3,} [A-Za-zÀ-ÿ]{2,}`)
	internal := regexp.MustCompile(`^(draft not kept|refused|acting|paper |phase |screen |made )`) // for the log of events and wrapped causes
	_, _, words := used(t)
	for _, w := range words {
		if _, s, _ := strings.Cut(w, ": "); sentence.MatchString(s) && !internal.MatchString(s) {
			t.Errorf("%s", w)
		}
	}
	if len(words) < 300 {
		t.Errorf("only %d literals were looked at", len(words))
	}
}

func TestEveryKeyIsUsed(t *testing.T) {
	keys, prefixes, _ := used(t)
	for _, k := range Keys(Fallback) {
		bare, _, _ := strings.Cut(k, "#")
		if keys[bare] || strings.HasPrefix(bare, "month.") || bare == "date.day" { // said by the catalogue itself
			continue
		}
		ok := false
		for p := range prefixes {
			ok = ok || strings.HasPrefix(bare, p)
		}
		if !ok {
			t.Errorf("nobody says %q", k)
		}
	}
}

func TestPluralsNumbersAndFallback(t *testing.T) {
	en, fr := For("en"), For("fr")
	if en.Count("pot.packs", 1) != "1 pack" || en.Count("pot.packs", 2) != "2 packs" {
		t.Error(en.Count("pot.packs", 1), en.Count("pot.packs", 2))
	}
	for _, c := range []struct{ got, want string }{
		{en.Say("today.to-release", "7", "1"), "Load 7 waits for release · 1 pack"}, {en.Say("today.to-release", "1", "3"), "Load 1 waits for release · 3 packs"},
		{fr.Say("recall.loads", "0"), "0 charge"}, {fr.Say("recall.loads", "2"), "2 charges"}, {en.Say("recall.loads", "0"), "0 loads"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	if one, all := en.Say("recall.close.whole", "1"), en.Say("recall.close.whole", "4"); !strings.HasPrefix(one, "The 1 pack is ") || !strings.HasPrefix(all, "All 4 packs are ") {
		t.Error(one, all)
	}
	if got := fr.Number(17.5, 2); got != "17,5" {
		t.Error(got)
	}
	if got := fr.Say("reason.dose-short", "11.9", "12"); !strings.Contains(got, "11,9") {
		t.Error(got)
	}
	if For("xx").Language != Fallback || en.Say("no.such.key") != "[no.such.key]" {
		t.Error("fallback")
	}
	if got := For(Stretched).Say("do.save"); len(got) <= len("Save") {
		t.Error(got)
	}
}
