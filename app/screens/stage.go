// Package screens holds the screens: one file each. A screen is built from the
// desk and the catalogue, shows one idea, and asks one question a step. It has no
// words of its own and no rules of its own: package work decides.
package screens

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// Places that a line of Today or the rail can lead to.
const (
	ToToday      = "today"
	ToPot        = "pot"
	ToLoad       = "load"
	ToSlip       = "slip"
	ToCycles     = "cycles"
	ToCycle      = "cycle"
	ToRelease    = "release"
	ToPeople     = "people"
	ToSetup      = "setup"
	ToCard       = "card"
	ToClock      = "clock"
	ToCorrect    = "correct"
	ToTaught     = "taught"
	ToLearn      = "learn"
	ToTests      = "tests"
	ToPolicies   = "policies"
	ToStock      = "stock"
	ToSets       = "sets"
	ToSetEdit    = "set"
	ToCount      = "count"
	ToCompare    = "compare"
	ToPacks      = "packs"
	ToPack       = "pack"
	ToPackNew    = "pack-new"
	ToCare       = "care"
	ToHeight     = "height"
	ToIncidents  = "incidents"
	ToReferences = "references"
	ToShelf      = "shelf"
	ToLists      = "lists"
	ToStick      = "stick"
	ToDevices    = "devices"
	ToRecalls    = "recalls"
	ToRecall     = "recall"
	ToLookBack   = "lookback"
	ToSite       = "site"
	ToClashes    = "clashes"
)

// Stage is what every screen stands on.
type Stage struct {
	Desk   *work.Desk
	Words  *assets.Words
	Win    fyne.Window
	Go     func(place string, id model.ID) // shows another screen
	Show   func(fyne.CanvasObject)         // puts a page of the present place in its stead
	Turn   int                             // how many pages were shown: what works beside one sees that it is gone
	Again  func()                          // builds the screen that is shown anew
	Beep   func()
	Open   func(path string)  // hands a file to the system's viewer
	Speak  func(lang string)  // changes the language
	Acts   func()             // shows who acts now; nil: nowhere
	Scale  func(float32)      // changes the size of text
	Pause  func(bool)         // lets time stand while a box is open; nil: time goes on
	AtOnce bool               // nothing runs in the background: for tests
	Note   func(event string) // for the record of events of a test run
}

// Say is the catalogue.
func (s *Stage) Say(key string, args ...string) string { return s.Words.Say(key, args...) }

// Fault puts an error into words: a refusal has its sentence, anything else is
// shown as it is, with what to do.
func (s *Stage) Fault(err error) string {
	if err == nil { // nothing is wrong: an office has no pot
		return s.Say("office.no-pot")
	}
	var r *work.Refusal
	if errors.As(err, &r) {
		if key := "refuse." + r.Code; s.Words.Has(key) {
			return s.Say(key, s.translate(r)...)
		}
		if s.Words.Has(r.Code) {
			return s.Say(r.Code, s.translate(r)...)
		}
	}
	return s.Say("refuse.unknown", err.Error())
}

// translate turns arguments that are codes themselves into words.
func (s *Stage) translate(r *work.Refusal) []string {
	prefix := map[string]string{"gate.hold": "hold.", "care-first": "care."}[r.Code]
	if prefix == "" {
		return r.Args
	}
	var out []string
	for _, a := range r.Args {
		out = append(out, s.Say(prefix+a))
	}
	if r.Code == "care-first" {
		return []string{strings.Join(out, "; ")}
	}
	return out
}

// Tell shows an error in a box; nothing typed is lost by it. It gives true where there was none.
func (s *Stage) Tell(err error) bool {
	if err == nil {
		return true
	}
	s.Note("refused: " + err.Error())
	s.Message(s.Fault(err))
	return false
}

// Message shows one sentence in a box with one button.
func (s *Stage) Message(text string) {
	var shut func()
	ok := widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewStrong(text), ok))
	s.Win.Canvas().Focus(ok)
}

// Modal shows content over the window and gives the way to take it away.
func (s *Stage) Modal(content fyne.CanvasObject) (shut func()) {
	shut = widgets.Over(s.Win, content)
	if s.Pause == nil {
		return shut
	}
	s.Pause(true) // the dial cannot be seen behind the box
	return func() { shut(); s.Pause(false) }
}

// WithPerson asks who is acting if nobody touched the screen for a while, then goes on. It
// is never in the way of a lit pot: the pot's own steps do not ask.
func (s *Stage) WithPerson(then func()) {
	if !s.Desk.Idle() {
		s.Desk.Stir()
		then()
		return
	}
	s.AskWho(then)
}

// WithManager is WithPerson for what only the one in charge may do: nobody writes a reason that is refused then.
func (s *Stage) WithManager(then func()) {
	s.WithPerson(func() {
		if s.Tell(s.Desk.MayManage()) {
			then()
		}
	})
}

// Background runs what takes long beside the window; tests run it at once.
func (s *Stage) Background(do func()) {
	if s.AtOnce {
		do()
		return
	}
	go do()
}

// Foreground changes the screen from the background.
func (s *Stage) Foreground(do func()) {
	if s.AtOnce {
		do()
		return
	}
	fyne.Do(do)
}

// InPieces does what takes long on the window's own thread, a piece at a time: between two of them the window answers. It ends when nothing is left, or when a page after that of the turn is shown.
func (s *Stage) InPieces(turn int, piece func() (more bool)) {
	s.Background(func() {
		for more := true; more; {
			done := make(chan bool, 1)
			s.Foreground(func() { done <- s.Turn <= turn && piece() })
			more = <-done
		}
	})
}

// Number reads a field as thousandths; the field shows what is wrong.
func (s *Stage) Number(f *widgets.Field) (milli int64, ok bool) {
	v, err := parseMilli(f.Text())
	if err != nil {
		f.SetError(s.Say("refuse.number"))
		return 0, false
	}
	f.SetError("")
	return v, true
}

// Figure writes thousandths in the reader's way.
func (s *Stage) Figure(milli int64) string { return s.Words.Number(float64(milli)/1000, 3) }

// Keep returns a function that keeps every keystroke of a field as a draft.
func (s *Stage) Keep(scope, field string) func(string) {
	return func(v string) {
		if err := s.Desk.Store.SaveDraft(scope, field, v); err != nil {
			s.Note("draft not kept: " + err.Error())
		}
	}
}

// Draft gives what was typed in a form and not yet signed.
func (s *Stage) Draft(scope string) map[string]string {
	m, err := s.Desk.Store.Draft(scope)
	if err != nil || m == nil {
		return map[string]string{}
	}
	return m
}

// Page is a screen's usual frame: a title, something at its right, and a body that scrolls.
func Page(title, right string, body ...fyne.CanvasObject) fyne.CanvasObject {
	head := widgets.NewHead(title, right)
	return widgets.NewFrame(head, widgets.NewScroll(widgets.NewColumn(body...)))
}

// Caution is the line that goes with every number for the pot.
func (s *Stage) Caution() fyne.CanvasObject {
	return widgets.NewColumn(widgets.NewStrong(s.Say("caution.open")).SetColor(widgets.Vermilion), widgets.NewSoft(s.Say("caution.line")))
}

// PaperDir is where sheets are written: the person's documents, else the data folder.
func (s *Stage) PaperDir() string {
	if h, err := os.UserHomeDir(); err == nil {
		for _, d := range []string{"Documents", "documents"} {
			if fi, err := os.Stat(filepath.Join(h, d)); err == nil && fi.IsDir() {
				return filepath.Join(h, d)
			}
		}
	}
	return filepath.Join(s.Desk.Dir, "paper")
}

// day is the time of stored milliseconds.
func day(ms int64) time.Time { return time.UnixMilli(ms) }

// fields are the words of a text, as a person or a scanner parts them.
func fields(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' || r == '\n' })
}

func count(n int64) string { return strconv.FormatInt(n, 10) }

func join(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, " · ")
}
