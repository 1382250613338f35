package home

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"syscall"
)

// faulty fails the nth operation with a chosen error.
type faulty struct {
	Disk
	left *int
	err  error
}

func (f faulty) fail() error {
	*f.left--
	if *f.left == 0 {
		return f.err
	}
	return nil
}

func (f faulty) WriteSynced(p string, d []byte, m fs.FileMode) error {
	if err := f.fail(); err != nil {
		_ = os.WriteFile(p, d[:len(d)/2], m) // a short write, as on a full disk
		return err
	}
	return f.Disk.WriteSynced(p, d, m)
}
func (f faulty) Rename(a, b string) error {
	if err := f.fail(); err != nil {
		return err
	}
	return f.Disk.Rename(a, b)
}
func (f faulty) SyncDir(p string) error {
	if err := f.fail(); err != nil {
		return err
	}
	return f.Disk.SyncDir(p)
}

// Whatever operation fails, the key on disk afterwards is the old one or the new one, whole.
func TestNthOperationFails(t *testing.T) {
	for _, cause := range []error{syscall.EIO, syscall.ENOSPC, syscall.EROFS, syscall.EACCES} {
		for n := 1; ; n++ {
			dir := t.TempDir()
			old, err := MakeKey(Disk{}, bytes.NewReader(bytes.Repeat([]byte{1}, 32)), dir, DeviceKey)
			if err != nil {
				t.Fatal(err)
			}
			left := n
			_, err = MakeKey(faulty{left: &left, err: cause}, bytes.NewReader(bytes.Repeat([]byte{2}, 32)), dir, DeviceKey)
			now, loadErr := LoadKey(Disk{}, dir, DeviceKey)
			if loadErr != nil && !errors.Is(loadErr, fs.ErrNotExist) {
				t.Fatalf("operation %d: %v", n, loadErr)
			}
			if errors.Is(loadErr, fs.ErrNotExist) { // set aside and not yet replaced: the old one is still there
				if m, _ := filepath.Glob(filepath.Join(dir, "keys", "*.old")); len(m) != 1 {
					t.Fatalf("operation %d lost the old key", n)
				}
			}
			if err == nil {
				if now.Equal(old) {
					t.Fatal("success was told and the old key is in force")
				}
				break
			}
			if !errors.Is(err, cause) {
				t.Fatalf("operation %d: the cause is hidden: %v", n, err)
			}
		}
	}
}

func TestSecondCopyIsToldOff(t *testing.T) {
	dir := t.TempDir()
	l, err := TakeLock(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := TakeLock(dir); !errors.Is(err, ErrRunning) {
		t.Errorf("%v", err)
	}
	l.Release()
	if l, err = TakeLock(dir); err != nil {
		t.Errorf("the lock was not let go: %v", err)
	}
	l.Release()
}

func TestWitnessTellsARestoredCopy(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	dir := t.TempDir()
	w, err := OpenWitness(Disk{}, dir)
	if err != nil {
		t.Fatal(err)
	}
	stream, head := []byte{1}, []byte{9}
	at := func(h byte) func(uint64) ([]byte, bool) {
		return func(uint64) ([]byte, bool) { return []byte{h}, true }
	}
	if x, ok, _ := w.Read(); Remember(x, ok, stream, 0, at(9)) != MemoryGood {
		t.Error("a new folder is not a copy")
	}
	if x, ok, _ := w.Read(); Remember(x, ok, stream, 5, at(9)) != MemoryNone {
		t.Error("entries without a witness are a copy")
	}
	if err := w.Write(stream, 5, head); err != nil {
		t.Fatal(err)
	}
	x, ok, err := w.Read()
	if err != nil || !ok {
		t.Fatal(err)
	}
	for want, got := range map[Memory]Memory{
		MemoryGood:   Remember(x, ok, stream, 7, at(9)),
		MemoryBehind: Remember(x, ok, stream, 4, at(9)),
		MemoryOther:  Remember(x, ok, stream, 5, at(8)),
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestPrivateFilesStayPrivate(t *testing.T) {
	dir := t.TempDir()
	if err := CheckDisk(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := MakeKey(Disk{}, bytes.NewReader(bytes.Repeat([]byte{3}, 32)), dir, RootKey); err != nil {
		t.Fatal(err)
	}
	fi, err := os.Stat(keyPath(dir, RootKey))
	if err != nil || fi.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", fi.Mode(), err)
	}
}

func TestDamagedKeySaysWhatToDo(t *testing.T) {
	dir := t.TempDir()
	os.MkdirAll(filepath.Join(dir, "keys"), 0o700)
	os.WriteFile(keyPath(dir, SiteKey), []byte("zz"), 0o600)
	if _, err := LoadKey(Disk{}, dir, SiteKey); err == nil || errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}
