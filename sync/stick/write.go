package stick

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
)

// Step is how far the writing is; until Safe the stick must not be pulled.
type Step int

// The steps.
const (
	Writing Step = iota
	Securing
	ReadingBack
	Safe
)

// Trouble says why nothing was written; Code is for the catalogue.
type Trouble struct {
	Code  string // "full", "read-only", "gone", "not-the-same", "name", "write", "read"
	Cause error
}

func (t *Trouble) Error() string {
	if t.Cause == nil {
		return "stick: " + t.Code
	}
	return "stick: " + t.Code + ": " + t.Cause.Error()
}

func (t *Trouble) Unwrap() error { return t.Cause }

// slack is the room left over: a drive that is full to the last byte behaves oddly.
const slack = 4 << 20

const partial = ".part"

// chunk is how much is written between two words of progress.
const chunk = 256 << 10

// Write puts a file onto a stick, and says it is safe only after it was read back from there. A file of the same name and the same bytes is
// already safe. What was there stays: nothing is ever written over. progress may be nil.
func Write(d FS, dir, name string, data []byte, progress func(step Step, done, all int)) error {
	if progress == nil {
		progress = func(Step, int, int) {}
	}
	if name == "" || name != filepath.Base(name) || strings.HasPrefix(name, ".") {
		return &Trouble{"name", nil}
	}
	path := filepath.Join(dir, name)
	if same, err := isThere(d, path, data); err != nil {
		return err
	} else if !same {
		if free := d.Free(dir); free >= 0 && free < int64(len(data))+slack {
			return &Trouble{"full", fmt.Errorf("%d bytes free", free)}
		}
		if err := put(d, path, data, progress); err != nil {
			d.Remove(path + partial) // ours, and of no use
			return named(err)
		}
	}
	progress(Securing, len(data), len(data))
	if err := secure(d, dir, path); err != nil {
		return named(err)
	}
	progress(ReadingBack, 0, len(data))
	if err := compare(d, path, data); err != nil {
		return err
	}
	progress(Safe, len(data), len(data))
	return nil
}

// isThere says whether the file is there with these bytes. One of the same name and other bytes is one of ours that a yank has torn: the name comes from
// the bytes. It is taken away.
func isThere(d FS, path string, data []byte) (bool, error) {
	fi, err := d.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, named(err)
	}
	if !fi.Mode().IsRegular() {
		return false, &Trouble{"name", errors.New("something else has this name")}
	}
	if fi.Size() == int64(len(data)) && compare(d, path, data) == nil {
		return true, nil
	}
	return false, named(d.Remove(path))
}

func put(d FS, path string, data []byte, progress func(Step, int, int)) error {
	if _, err := d.Stat(path + partial); err == nil { // left by a yank
		if err := d.Remove(path + partial); err != nil {
			return err
		}
	}
	f, err := d.Create(path + partial)
	if err != nil {
		return err
	}
	for done := 0; done < len(data); {
		progress(Writing, done, len(data))
		n, err := f.Write(data[done:min(done+chunk, len(data))])
		if done += n; err != nil {
			return errors.Join(err, f.Close())
		}
	}
	if err := f.Sync(); err != nil {
		return errors.Join(err, f.Close())
	}
	if err := f.Close(); err != nil {
		return err
	}
	return d.Rename(path+partial, path)
}

// secure syncs the file again under its new name, and then the folder: without the second sync a yank leaves a name with nothing behind it.
func secure(d FS, dir, path string) error {
	f, err := d.Reopen(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	return d.SyncDir(dir)
}

// compare reads the file back, from the drive where the system lets its own copy go.
func compare(d FS, path string, data []byte) error {
	f, err := d.Reopen(path)
	if err != nil {
		return named(err)
	}
	defer f.Close()
	_ = f.DropCache() // where it cannot, the receipt that comes back is the proof
	buf := make([]byte, chunk)
	for off := 0; off < len(data); off += chunk {
		want := data[off:min(off+chunk, len(data))]
		n, err := f.ReadAt(buf[:len(want)], int64(off))
		if n < len(want) || !bytes.Equal(buf[:n], want) {
			return &Trouble{"not-the-same", err}
		}
	}
	if n, _ := f.ReadAt(buf[:1], int64(len(data))); n > 0 {
		return &Trouble{"not-the-same", errors.New("longer than what was written")}
	}
	return nil
}

// named gives an error its code.
func named(err error) error {
	var t *Trouble
	switch {
	case err == nil || errors.As(err, &t):
		return err
	case full(err):
		return &Trouble{"full", err}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, errReadOnly):
		return &Trouble{"read-only", err}
	case errors.Is(err, fs.ErrNotExist):
		return &Trouble{"gone", err}
	}
	return &Trouble{"write", err}
}
