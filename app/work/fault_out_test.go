package work_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
	"mvuke/sync/stick"
)

// outRoom is a clinic's laptop that has something for the tablet, and a stick.
type outRoom struct {
	*pair
	*rooms
	laptop, tab, stick string
	site               model.ID
	held               []entry.ID
	ours, theirs       [32]byte // what both show where no fault was met
}

func outOf(t *testing.T) *outRoom {
	t.Helper()
	p := twoDevices(t)
	_, cycle := p.sterile(1)
	p.check(p.d.Stop(cycle, "wet"))
	o := &outRoom{pair: p, laptop: p.dir, tab: p.tablet.Dir, stick: filepath.Join(t.TempDir(), "stick"), site: p.place().ID}
	held, err := entries(p.d)
	p.check(err)
	o.held = held
	p.check(errors.Join(p.d.Close(), p.tablet.Close()))
	o.rooms = keep(t, o.laptop, o.tab, p.states[0], p.states[1])
	p.check(o.try(&faults{}, func(d stick.FS) stick.FS { return d }))
	return o
}

// try takes out with a fault, says what was told that is not so, and takes out again.
func (o *outRoom) try(f *faults, drive func(stick.FS) stick.FS) error {
	o.back()
	if err := errors.Join(os.RemoveAll(o.stick), os.Mkdir(o.stick, 0o700)); err != nil {
		return err
	}
	d, err := o.with(o.laptop, o.states[0], f, drive(faultyStick{faults: f}))
	if err != nil {
		return err
	}
	defer func() { d.Close() }()
	safe := map[string]bool{}
	f.armed = true
	out, err := d.TakeOut(o.site, o.stick, true, func(name string, step, _, _ int) { safe[name] = safe[name] || stick.Step(step) == stick.Safe })
	for name := range safe {
		if safe[name] && !complete(filepath.Join(o.stick, name)) {
			return fmt.Errorf("%s was called safe to pull, and is not whole", name)
		}
	}
	if err != nil {
		if err := sentence(err); err != nil {
			return err
		}
	}
	for _, name := range out.Files {
		if !safe[name] {
			return fmt.Errorf("%s was told as taken out, and never as safe", name)
		}
	}
	if err == nil && len(out.Files) == 0 {
		return errors.New("success, and nothing was written")
	}
	if err == nil && f.kind != stays { // then it must be enough
		f.armed = false
		return o.arrived(d, f)
	}
	if d, err = o.again(d, f, o.states[0]); err != nil {
		return fmt.Errorf("opened again: %w", err)
	}
	if _, err := d.TakeOut(o.site, o.stick, true, nil); err != nil {
		return fmt.Errorf("the second try: %w", err)
	}
	return o.arrived(d, f)
}

// arrived looks at both registers once the stick was carried.
func (o *outRoom) arrived(d *work.Desk, f *faults) error {
	if err := whole(d, o.held); err != nil {
		return err
	}
	t, err := o.bench.at(o.tab, o.states[1], f)
	if err != nil {
		return err
	}
	defer t.Close()
	in, err := t.BringIn(o.stick)
	for _, x := range in.Files {
		if good := x.Verdict == exchange.New || x.Verdict == exchange.Have; !good && filepath.Ext(x.File) != ".part" {
			err = errors.Join(err, fmt.Errorf("%s lies there under its own name and is %s", x.File, x.Verdict))
		}
	}
	if err := errors.Join(err, holds(t, o.held)); err != nil {
		return err
	}
	if o.ours == ([32]byte{}) { // the first of all met no fault: so it must be
		if o.ours, err = d.Store.Digest(); err == nil {
			o.theirs, err = t.Store.Digest()
		}
		return err
	}
	return errors.Join(like(d, o.ours), like(t, o.theirs))
}

func complete(path string) bool {
	b, err := os.ReadFile(path)
	if err != nil {
		return false
	}
	_, err = bundle.LookBytes(b)
	return err == nil
}

// Whatever operation fails on the stick or on our own files while a clinic takes out: no file is called safe that is not whole, a sentence says what went wrong, the
// register stays as it was, and the second try brings to the other device all that the first should have.
func TestAnyOperationOfTakingOutMayFail(t *testing.T) {
	o := outOf(t)
	passes(t, 17, false, []fault{once, stays, lies}, func(f *faults) error { return o.try(f, func(d stick.FS) stick.FS { return d }) })
	passes(t, 20, true, []fault{once, stays}, func(f *faults) error { return o.try(f, func(d stick.FS) stick.FS { return d }) })
}

// A writer that does not read back from the stick, but from what it remembers, calls a file safe of which the stick lied.
func TestTakingOutWithoutReadingBackIsFoundOut(t *testing.T) {
	o := outOf(t)
	caught(t, lies, func(f *faults) error {
		return o.try(f, func(d stick.FS) stick.FS { return &unread{FS: d, is: map[string][]byte{}} })
	})
}

// unread is a stick that is never read: what was written is given back from memory.
type unread struct {
	stick.FS
	is map[string][]byte
}

type unreadFile struct {
	stick.File
	u    *unread
	path string
}

func (u *unread) Create(p string) (stick.File, error) {
	f, err := u.FS.Create(p)
	return unreadFile{f, u, p}, err
}
func (u *unread) Reopen(p string) (stick.File, error) {
	f, err := u.FS.Reopen(p)
	return unreadFile{f, u, p}, err
}
func (u *unread) Rename(a, b string) error {
	u.is[b] = u.is[a]
	return u.FS.Rename(a, b)
}
func (x unreadFile) Write(b []byte) (int, error) {
	x.u.is[x.path] = append(x.u.is[x.path], b...)
	return x.File.Write(b)
}
func (x unreadFile) ReadAt(b []byte, off int64) (int, error) {
	return copy(b, x.u.is[x.path][min(int(off), len(x.u.is[x.path])):]), nil
}
