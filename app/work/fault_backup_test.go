package work_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// copyRoom is a clinic with copies of a fortnight, of which one more makes the oldest go.
type copyRoom struct {
	*bench
	*rooms
	state  string
	oldest int // copies that lie there before
	held   []entry.ID
}

// keepCopy is the errand, or a bad twin of it.
type keepCopy func(d *work.Desk, f *faults) (string, error)

func daily(d *work.Desk, _ *faults) (string, error) {
	path, r, err := d.Backup()
	if err == nil && !r.OK() {
		err = fmt.Errorf("success, and %v", r.Faults)
	}
	return path, err
}

func copiesOf(t *testing.T) *copyRoom {
	t.Helper()
	b := desk(t)
	c := &copyRoom{bench: b, state: t.TempDir()}
	b.check(b.d.Close())
	d, err := b.at(b.dir, c.state, &faults{}) // a copied folder, by its state: it has a stream of its own
	b.check(err)
	for range 14 {
		_, _, err := d.Backup()
		b.check(err)
		b.clk.Pass(24 * time.Hour)
	}
	c.oldest = len(c.all())
	c.held, err = entries(d)
	b.check(errors.Join(err, d.Close()))
	c.rooms = keep(t, b.dir, c.state)
	return c
}

func (c *copyRoom) all() []string {
	names, _ := filepath.Glob(filepath.Join(c.dir, "backup", "register-*.mvb"))
	return names
}

// try keeps a copy with a fault, looks at all that now counts as a copy, and keeps one again.
func (c *copyRoom) try(f *faults, do keepCopy) error {
	c.back()
	now := c.clk.Wall
	defer func() { c.clk.Wall = now }()
	d, err := c.bench.at(c.dir, c.state, f)
	if err != nil {
		return err
	}
	defer func() { d.Close() }()
	f.armed = true
	path, err := do(d, f)
	on := f.armed
	f.armed = false
	if err != nil {
		if err := sentence(err); err != nil {
			return err
		}
	} else if err := c.copied(path); err != nil {
		return fmt.Errorf("success, and %w", err)
	}
	if err := c.sound(); err != nil {
		return err
	}
	f.armed = on
	if d, err = c.again(d, f, c.state); err != nil {
		return fmt.Errorf("opened again: %w", err)
	}
	if err := whole(d, c.held); err != nil {
		return err
	}
	c.clk.Pass(time.Minute)
	if path, err = daily(d, f); err != nil {
		return fmt.Errorf("the second try: %w", err)
	}
	if d.BackupDue() {
		return errors.New("a copy was kept, and one is due")
	}
	return errors.Join(c.copied(path), c.sound())
}

// copied says what a copy lacks.
func (c *copyRoom) copied(path string) error {
	r, err := store.CheckCopy(path)
	if err != nil || !r.OK() || r.Entries != int64(len(c.held)) {
		return fmt.Errorf("%s has %d of %d entries, %v, %w", filepath.Base(path), r.Entries, len(c.held), r.Faults, errors.Join(err, errNotWhole))
	}
	return nil
}

// sound says whether all that counts as a copy is one, and none but the oldest went.
func (c *copyRoom) sound() error {
	names := c.all()
	for _, name := range names {
		if err := c.copied(name); err != nil {
			return fmt.Errorf("it counts as a copy: %w", err)
		}
	}
	if len(names) < c.oldest-1 {
		return fmt.Errorf("%d copies, and there were %d", len(names), c.oldest)
	}
	return nil
}

// Whatever operation fails while the copy of the day is kept: what counts as a copy is whole, older ones stay until then, the register is as it was, and the second try
// succeeds.
func TestAnyOperationOfKeepingACopyMayFail(t *testing.T) {
	c := copiesOf(t)
	passes(t, 7, false, []fault{once, stays}, func(f *faults) error { return c.try(f, daily) })
	passes(t, 25, true, []fault{once, stays}, func(f *faults) error { return c.try(f, daily) })
}

// One that copies onto the final name, and looks at nothing, is found out.
func TestACopyWithoutItsCheckIsFoundOut(t *testing.T) {
	c := copiesOf(t)
	caught(t, once, func(f *faults) error {
		return c.try(f, func(d *work.Desk, f *faults) (string, error) {
			path := filepath.Join(d.BackupDir(), c.clk.Wall.UTC().Format("register-20060102-150405")+".mvb")
			err := faultyHome{faults: f}.Copy(filepath.Join(d.Dir, store.RegisterFile), path)
			if err != nil {
				err = &work.Refusal{Code: "backup-failed"}
			}
			return path, err
		})
	})
}
