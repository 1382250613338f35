package work_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// backRoom is a clinic that goes back to a copy. What it wrote after the copy lies in SQLite's log still, as after a power cut.
type backRoom struct {
	*bench
	*rooms
	state, copy string
	held, kept  []entry.ID // what the register holds; what the copy does
}

// goBack is the errand, or a bad twin of it.
type goBack func(f home.FS, from, dir string, now time.Time) error

func restore(f home.FS, from, dir string, now time.Time) error {
	_, _, err := work.RestoreOn(f, from, dir, now)
	return err
}

func backOf(t *testing.T) *backRoom {
	t.Helper()
	b := desk(t)
	r := &backRoom{bench: b, state: os.Getenv("MVUKE_STATE")}
	path, _, err := b.d.Backup()
	b.check(err)
	r.copy = path
	r.kept, err = entries(b.d)
	b.check(err)
	b.sterile(1)
	r.held, err = entries(b.d)
	b.check(err)
	left := filepath.Join(b.dir, "aside-20990101-000000") // of one that was cut short before anything moved, by a clock that was ahead
	b.check(os.Mkdir(left, 0o700))
	b.check(os.WriteFile(filepath.Join(left, store.RegisterFile+".new"), []byte("torn"), 0o600))
	r.rooms = keep(t, b.dir, r.state) // while it is open, and nobody writes: the log is as a power cut leaves it
	if fi, err := os.Stat(filepath.Join(r.rooms.at(0), store.RegisterFile+"-wal")); err != nil || fi.Size() == 0 {
		t.Fatal("nothing lies in the log: ", err)
	}
	b.check(b.d.Close())
	return r
}

// try goes back with a fault, opens the register as the next start does, and goes back again.
func (r *backRoom) try(f *faults, do goBack) error {
	r.back()
	f.armed = true
	err := do(faultyHome{faults: f}, r.copy, r.dir, r.clk.Wall)
	f.armed = false
	if err != nil {
		if err := sentence(err); err != nil {
			return err
		}
	} else if err := r.there(); err != nil {
		return fmt.Errorf("success, and %w", err)
	}
	if f.kind == stays { // and the program is started again
		if err := r.opens(f, err != nil); err != nil {
			return err
		}
	}
	if err := restore(home.Disk{}, r.copy, r.dir, r.clk.Wall); err != nil {
		return fmt.Errorf("the second try: %w", err)
	}
	return errors.Join(r.there(), r.nothingLost())
}

// opens has the next start find the old register whole, where there was an error, or the copy.
func (r *backRoom) opens(f *faults, mayBeOld bool) error {
	d, err := r.bench.at(r.dir, r.state, f)
	if err != nil {
		return fmt.Errorf("opened after it: %w", err)
	}
	least := r.kept
	if mayBeOld && holds(d, r.held) == nil {
		least = r.held
	}
	return errors.Join(whole(d, least), d.Close(), r.nothingLost())
}

// there says whether the register is the copy, to the byte, and nothing of the old one is mixed in.
func (r *backRoom) there() error {
	want, err := os.ReadFile(r.copy)
	if err != nil {
		return err
	}
	if got, err := os.ReadFile(filepath.Join(r.dir, store.RegisterFile)); err != nil || !bytes.Equal(got, want) {
		return fmt.Errorf("the register is not the copy, %w", errors.Join(err, errNotWhole))
	}
	if _, err := os.Stat(filepath.Join(r.dir, store.RegisterFile+"-wal")); err == nil {
		return errors.New("the log of the old register lies beside the copy")
	}
	return nil
}

// nothingLost looks for all that was acknowledged: in the register, or in one that was set aside.
func (r *backRoom) nothingLost() error {
	places, _ := filepath.Glob(filepath.Join(r.dir, "aside-*"))
	for _, dir := range append(places, r.dir) {
		tmp, err := os.MkdirTemp(filepath.Dir(r.rooms.kept), "look")
		if err != nil {
			return err
		}
		for _, tail := range []string{"", "-wal"} {
			if b, err := os.ReadFile(filepath.Join(dir, store.RegisterFile+tail)); err == nil {
				os.WriteFile(filepath.Join(tmp, store.RegisterFile+tail), b, 0o600)
			}
		}
		s, err := store.Open(tmp, store.Options{})
		if err != nil {
			continue
		}
		err = holds(&work.Desk{Store: s}, r.held)
		s.Close()
		if err == nil {
			return nil
		}
	}
	return errors.New("what was acknowledged is neither in the register nor in one that was set aside")
}

// Whatever operation fails while a register goes back to a copy: the next start opens the old one whole or the copy whole, never an empty one, what was acknowledged is there or
// set aside in one piece, and the second try ends with the copy.
func TestAnyOperationOfGoingBackMayFail(t *testing.T) {
	r := backOf(t)
	passes(t, 10, false, []fault{once, stays}, func(f *faults) error { return r.try(f, restore) })
}

// naive moves one file after another and copies before it looks where to: it must be found out.
func naive(f home.FS, from, dir string, now time.Time) error {
	fresh, aside := filepath.Join(dir, store.RegisterFile+".new"), filepath.Join(dir, "aside-"+now.UTC().Format("20060102-150405"))
	err := f.Copy(from, fresh)
	for _, name := range []string{store.RegisterFile, store.RegisterFile + "-wal", store.RegisterFile + "-shm", store.ViewsFile} {
		if _, gone := f.Stat(filepath.Join(dir, name)); gone == nil && err == nil {
			err = errors.Join(f.MkdirAll(aside, 0o700), f.Rename(filepath.Join(dir, name), filepath.Join(aside, name)))
		}
	}
	if err == nil {
		err = f.Rename(fresh, filepath.Join(dir, store.RegisterFile))
	}
	if err != nil {
		return &work.Refusal{Code: "restore-failed"}
	}
	return nil
}

func TestGoingBackFileByFileIsFoundOut(t *testing.T) {
	r := backOf(t)
	for _, kind := range []fault{once, stays} {
		caught(t, kind, func(f *faults) error { return r.try(f, naive) })
	}
}
