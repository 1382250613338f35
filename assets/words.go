package assets

import (
	"embed"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

//go:embed words/*.json
var wordFiles embed.FS

// Fallback is the language that is always whole.
const Fallback = "en"

// Words is the catalogue in one language.
type Words struct {
	Language string
	tag      language.Tag
	own, en  map[string]string
	stretch  bool
}

var loaded = func() map[string]map[string]string {
	all := map[string]map[string]string{}
	files, err := wordFiles.ReadDir("words")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		b, err := wordFiles.ReadFile("words/" + f.Name())
		if err != nil {
			panic(err)
		}
		m := map[string]string{}
		if err := json.Unmarshal(b, &m); err != nil {
			panic(fmt.Sprintf("words/%s: %v", f.Name(), err))
		}
		all[strings.TrimSuffix(f.Name(), ".json")] = m
	}
	return all
}()

// Stretched is a pretended language with words 40 % longer; it shows cut-offs.
const Stretched = "qps"

// For gives the catalogue of a language; an unknown one is English.
func For(lang string) *Words {
	w := &Words{Language: lang, en: loaded[Fallback], own: loaded[lang]}
	if lang == Stretched {
		w.stretch, w.Language = true, Fallback
	}
	if w.own == nil {
		w.own = w.en
		w.Language = Fallback
	}
	w.tag = language.Make(w.Language)
	return w
}

// Languages lists the languages that there are files for, English first.
func Languages() []string {
	out := []string{Fallback}
	for l := range loaded {
		if l != Fallback {
			out = append(out, l)
		}
	}
	slices.Sort(out[1:])
	return out
}

// Keys lists all keys of a language, sorted; for checks.
func Keys(lang string) []string {
	var out []string
	for k := range loaded[lang] {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// Raw is the unfilled sentence of a language; for checks.
func Raw(lang, key string) string { return loaded[lang][key] }

func (w *Words) find(key string) (string, bool) {
	if s, ok := w.own[key]; ok {
		return s, true
	}
	s, ok := w.en[key]
	return s, ok
}

// Has says whether there is a sentence for a key.
func (w *Words) Has(key string) bool { _, ok := w.find(key); return ok }

// Say fills a sentence. An unknown key comes back in brackets, so that it is seen.
func (w *Words) Say(key string, args ...string) string {
	s, ok := w.find(key)
	if !ok {
		return "[" + key + "]"
	}
	s = forms.ReplaceAllStringFunc(s, func(hole string) string { return w.form(hole, args) })
	for i, a := range args {
		s = strings.ReplaceAll(s, "{"+strconv.Itoa(i)+"}", w.arg(a))
	}
	if w.stretch {
		s += strings.Repeat("~", len(s)*2/5)
	}
	return s
}

// forms are places in a sentence that follow a number: {1|pack|packs} is the first form where argument 1 is one as the language counts, else the second. A form may hold the number itself.
var forms = regexp.MustCompile(`\{(\d)\|((?:[^|{}]|\{\d\})*)\|((?:[^|{}]|\{\d\})*)\}`)

func (w *Words) form(hole string, args []string) string {
	m := forms.FindStringSubmatch(hole)
	i, err := strconv.Atoi(m[1])
	if err != nil || i >= len(args) {
		return m[3]
	}
	if n, err := strconv.Atoi(args[i]); err == nil && w.one(n) {
		return m[2]
	}
	return m[3]
}

func (w *Words) one(n int) bool {
	return plural.Cardinal.MatchPlural(w.tag, n, 0, 0, 0, 0) == plural.One
}

// Count fills a sentence in the form that a number needs; {0} is the number.
func (w *Words) Count(key string, n int, args ...string) string {
	form := "other"
	if w.one(n) {
		form = "one"
	}
	if !w.Has(key + "#" + form) {
		form = "other"
	}
	return w.Say(key+"#"+form, append([]string{strconv.Itoa(n)}, args...)...)
}

// arg writes a figure with the reader's decimal mark; other texts stay as they are.
func (w *Words) arg(a string) string {
	if w.Say1("number.point") == "," && isFigure(a) {
		return strings.Replace(a, ".", ",", 1)
	}
	return a
}

// Each says every code of some that there are words for, one after the other.
func (w *Words) Each(prefix string, codes []string) string {
	var out []string
	for _, code := range codes {
		if w.Has(prefix + code) {
			out = append(out, w.Say(prefix+code))
		}
	}
	return strings.Join(out, "; ")
}

// Say1 is a sentence without arguments and never stretched: for settings such as the decimal mark.
func (w *Words) Say1(key string) string { s, _ := w.find(key); return s }

func isFigure(s string) bool {
	_, err := strconv.ParseFloat(s, 64)
	return err == nil && strings.Contains(s, ".")
}

// Number writes v with at most so many decimals, without trailing zeros.
func (w *Words) Number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return strings.Replace(s, ".", w.Say1("number.point"), 1)
}

// Day writes a date for people: day, month in words, year.
func (w *Words) Day(t time.Time) string {
	return w.Say("date.day", strconv.Itoa(t.Day()), w.Say("month."+strconv.Itoa(int(t.Month()))), strconv.Itoa(t.Year()))
}

// Clock writes a time of day.
func (w *Words) Clock(t time.Time) string { return t.Format("15:04") }
