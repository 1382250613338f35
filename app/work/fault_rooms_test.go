package work_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"mvuke/app/work"
	"mvuke/model/entry"
	"mvuke/sync/stick"
)

// rooms are folders that are put back to what they were before each try, each with the state of its machine beside it.
type rooms struct {
	t     *testing.T
	kept  string
	paths []string
}

// keep takes the folders as they are now.
func keep(t *testing.T, paths ...string) *rooms {
	t.Helper()
	r := &rooms{t: t, kept: t.TempDir(), paths: paths}
	for i, p := range paths {
		os.Remove(filepath.Join(p, "ballast")) // made anew, without its bytes
		if err := os.CopyFS(r.at(i), os.DirFS(p)); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

func (r *rooms) at(i int) string { return filepath.Join(r.kept, fmt.Sprint(i)) }

func (r *rooms) back() {
	r.t.Helper()
	for i, p := range r.paths {
		err := os.RemoveAll(p)
		if err == nil {
			err = os.CopyFS(p, os.DirFS(r.at(i)))
		}
		if err != nil {
			r.t.Fatal(err)
		}
		if _, err := os.Stat(filepath.Join(p, "keys")); err == nil {
			lightBallast(r.t, p)
		}
	}
}

// at opens a register whose own files and sticks ask f.
func (b *bench) at(dir, state string, f *faults) (*work.Desk, error) {
	return b.with(dir, state, f, faultyStick{faults: f})
}

func (b *bench) with(dir, state string, f *faults, drive stick.FS) (*work.Desk, error) {
	b.t.Setenv("MVUKE_STATE", state)
	d, err := work.Open(dir, work.Options{Clock: b.clk, FS: faultyHome{faults: f}, Stick: drive})
	if err != nil {
		return nil, err
	}
	people, err := d.People()
	if len(people) > 0 {
		d.Act(people[0].ID)
	}
	return d, err
}

// again gives the desk for the second try: the same one where the fault has passed, else one that is opened anew after the first was closed on the bad disk.
func (b *bench) again(d *work.Desk, f *faults, state string) (*work.Desk, error) {
	if f.kind != stays {
		f.armed = false
		return d, nil
	}
	d.Close()
	f.armed = false
	return b.at(d.Dir, state, f)
}

// whole says what is wrong with a register: the check of everything, and what it held.
func whole(d *work.Desk, held []entry.ID) error {
	if r, err := d.Store.Check(nil); err != nil || !r.OK() {
		return fmt.Errorf("the register: %v %w", r.Faults, errors.Join(err, errNotWhole))
	}
	return holds(d, held)
}

// holds says whether entries are all in a register.
func holds(d *work.Desk, ids []entry.ID) error {
	for _, id := range ids {
		if ok, err := d.Store.Has(id); err != nil || !ok {
			return fmt.Errorf("an entry that was acknowledged is lost: %w", errors.Join(err, errNotWhole))
		}
	}
	return nil
}

var errNotWhole = errors.New("not whole")

// entries are the ids of all that a register holds.
func entries(d *work.Desk) (out []entry.ID, err error) {
	n, err := d.Store.Count()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.Last(int(n))
	for _, v := range vs {
		out = append(out, v.ID())
	}
	return out, err
}

// like says whether a register shows what it shows where no fault was met.
func like(d *work.Desk, want [32]byte) error {
	got, err := d.Store.Digest()
	if err == nil && got != want {
		err = errors.New("it shows another state than one that met no fault")
	}
	return err
}
