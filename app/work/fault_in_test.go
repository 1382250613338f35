package work_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model/entry"
	"mvuke/sync/exchange"
)

// inRoom is a tablet, and a stick for it: a month in one file, the stop of a load in a later one that lies in a folder, and a last one that a yank has torn.
type inRoom struct {
	*pair
	*rooms
	tab, stick string
	held       []entry.ID // what the tablet has acknowledged
	torn       []entry.ID // what only the torn file tells
	theirs     [32]byte   // what the tablet shows where no fault was met
}

// bring is the errand, or a bad twin of it.
type bring func(d *work.Desk, dir string) (work.BroughtIn, error)

func ours(d *work.Desk, dir string) (work.BroughtIn, error) { return d.BringIn(dir) }

func inOf(t *testing.T) *inRoom {
	t.Helper()
	p := twoDevices(t)
	r := &inRoom{pair: p, tab: p.tablet.Dir, stick: t.TempDir()}
	out := func(folder string) string {
		t.Helper()
		dir := filepath.Join(r.stick, folder)
		p.check(os.MkdirAll(dir, 0o700))
		x, err := p.d.TakeOut(p.place().ID, dir, true, nil)
		p.check(err)
		return filepath.Join(dir, x.Files[0])
	}
	_, cycle := p.sterile(1)
	out("")
	p.check(p.d.Stop(cycle, "wet"))
	out("later")
	before, err := entries(p.d)
	p.check(err)
	p.check(p.d.TellStock("tape", 5, true))
	after, err := entries(p.d)
	p.check(err)
	r.torn = slices.DeleteFunc(after, func(x entry.ID) bool { return slices.Contains(before, x) })
	last := out("last")
	b, err := os.ReadFile(last)
	p.check(err)
	p.check(os.WriteFile(last, b[:len(b)*9/10], 0o600))
	r.held, err = entries(p.tablet)
	p.check(err)
	p.check(errors.Join(p.d.Close(), p.tablet.Close()))
	r.rooms = keep(t, r.tab, p.states[1])
	p.check(r.try(&faults{}, ours))
	return r
}

// try brings in with a fault, says what was told that is not so, and brings in again.
func (r *inRoom) try(f *faults, do bring) error {
	r.back()
	d, err := r.bench.at(r.tab, r.states[1], f)
	if err != nil {
		return err
	}
	defer func() { d.Close() }()
	f.armed = true
	in, err := do(d, r.stick)
	told, wrong := r.told(in, err)
	if wrong != nil {
		return wrong
	}
	if d, err = r.again(d, f, r.states[1]); err != nil {
		return fmt.Errorf("opened again: %w", err)
	}
	if r.theirs == ([32]byte{}) {
		if r.theirs, err = d.Store.Digest(); err != nil || told {
			return errors.Join(err, fmt.Errorf("without a fault: %+v", in))
		}
	}
	if !told {
		if err := like(d, r.theirs); err != nil {
			return fmt.Errorf("nothing was said, and %w", err)
		}
	}
	if err := errors.Join(whole(d, r.held), r.nothingTorn(d)); err != nil {
		return err
	}
	in, err = d.BringIn(r.stick)
	if told, wrong := r.told(in, err); told || wrong != nil {
		return fmt.Errorf("the second try: %w", errors.Join(err, wrong, fmt.Errorf("%+v", in)))
	}
	return errors.Join(like(d, r.theirs), r.nothingTorn(d))
}

// told says whether anything but the torn file was told to the person, and what is wrong with how.
func (r *inRoom) told(in work.BroughtIn, err error) (bool, error) {
	if err != nil {
		return true, sentence(err)
	}
	told, torn := false, false
	for _, x := range in.Files {
		if !slices.Contains(assets.Keys("en"), "carry."+string(x.Verdict)) {
			return true, fmt.Errorf("no word for %q", x.Verdict)
		}
		good := x.Verdict == exchange.New || x.Verdict == exchange.Have
		if strings.Contains(x.File, "last") && !good {
			torn = true
			continue
		}
		told = told || !good
	}
	if !told && !torn {
		return false, errors.New("a file was passed over, and nothing was said")
	}
	return told, nil
}

func (r *inRoom) nothingTorn(d *work.Desk) error {
	for _, id := range r.torn {
		if ok, err := d.Store.Has(id); ok || err != nil {
			return errors.Join(err, errors.New("an entry of a torn file was taken in"))
		}
	}
	return nil
}

// Whatever operation fails on the stick, on our own files or in SQLite while a stick is brought in: where something is missing the person is told so, what was there is
// still there, nothing of a torn file is taken, and the second try brings the rest.
func TestAnyOperationOfBringingInMayFail(t *testing.T) {
	r := inOf(t)
	passes(t, 25, false, []fault{once, stays}, func(f *faults) error { return r.try(f, ours) })
	passes(t, 60, true, []fault{once, stays}, func(f *faults) error { return r.try(f, ours) })
}

// A reader that passes over what it cannot read is found out.
func TestBringingInThatPassesOverIsFoundOut(t *testing.T) {
	r := inOf(t)
	caught(t, once, func(f *faults) error {
		return r.try(f, func(d *work.Desk, dir string) (work.BroughtIn, error) {
			in, err := d.BringIn(dir)
			in.Files = slices.DeleteFunc(in.Files, func(x work.Brought) bool {
				return x.Verdict != exchange.New && x.Verdict != exchange.Have && !strings.Contains(x.File, "last")
			})
			return in, err
		})
	})
}
