package stick

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// failing lets the n-th operation fail, and all after it, as a pulled stick does.
type failing struct {
	FS
	left *int
	err  error
}

func (f failing) hit() error {
	if *f.left--; *f.left < 0 {
		return f.err
	}
	return nil
}

func (f failing) Create(p string) (File, error) {
	if err := f.hit(); err != nil {
		return nil, err
	}
	x, err := f.FS.Create(p)
	return failingFile{x, f}, err
}

func (f failing) Reopen(p string) (File, error) {
	if err := f.hit(); err != nil {
		return nil, err
	}
	x, err := f.FS.Reopen(p)
	return failingFile{x, f}, err
}

func (f failing) Rename(a, b string) error {
	if err := f.hit(); err != nil {
		return err
	}
	return f.FS.Rename(a, b)
}

func (f failing) Remove(p string) error {
	if err := f.hit(); err != nil {
		return err
	}
	return f.FS.Remove(p)
}

func (f failing) Stat(p string) (fs.FileInfo, error) {
	if err := f.hit(); err != nil {
		return nil, err
	}
	return f.FS.Stat(p)
}

func (f failing) SyncDir(p string) error {
	if err := f.hit(); err != nil {
		return err
	}
	return f.FS.SyncDir(p)
}

type failingFile struct {
	File
	f failing
}

func (x failingFile) Write(b []byte) (int, error) {
	if err := x.f.hit(); err != nil {
		n, _ := x.File.Write(b[:len(b)/2]) // a short write, as on a full drive
		return n, err
	}
	return x.File.Write(b)
}

func (x failingFile) ReadAt(b []byte, off int64) (int, error) {
	if err := x.f.hit(); err != nil {
		return 0, err
	}
	return x.File.ReadAt(b, off)
}

func (x failingFile) Sync() error {
	if err := x.f.hit(); err != nil {
		return err
	}
	return x.File.Sync()
}

var data = bytes.Repeat([]byte("abcdefg!"), 90_000) // three pieces

// Whatever operation fails, nothing is called safe that is not whole, what lay there stays, and a second try succeeds.
func TestAnyOperationMayFail(t *testing.T) {
	for _, cause := range []error{syscall.EIO, syscall.ENOSPC, syscall.EROFS, syscall.EACCES, syscall.ENOENT} {
		codes := map[string]int{}
		for n := 0; ; n++ {
			dir := t.TempDir()
			old := filepath.Join(dir, "MVOLD.MVB")
			if err := os.WriteFile(old, []byte("earlier"), 0o600); err != nil {
				t.Fatal(err)
			}
			left, safe := n, false
			err := Write(failing{Disk{}, &left, cause}, dir, "MVNEW.MVB", data, func(s Step, _, _ int) { safe = safe || s == Safe })
			if b, e := os.ReadFile(old); e != nil || string(b) != "earlier" {
				t.Fatalf("operation %d: what lay there is %q, %v", n, b, e)
			}
			if err == nil {
				if b, _ := os.ReadFile(filepath.Join(dir, "MVNEW.MVB")); !safe || !bytes.Equal(b, data) {
					t.Fatal("called done, and it is not")
				}
				if n < 12 {
					t.Errorf("only %d operations", n)
				}
				break
			}
			if safe {
				t.Fatalf("operation %d failed, and it was called safe", n)
			}
			var tr *Trouble
			if !errors.As(err, &tr) {
				t.Fatalf("operation %d: %v has no code", n, err)
			}
			codes[tr.Code]++
			if err := Write(Disk{}, dir, "MVNEW.MVB", data, nil); err != nil {
				t.Fatalf("operation %d: the second try: %v", n, err)
			}
		}
		t.Logf("%v: %v", cause, codes)
	}
}

func TestWritingTwiceAndOverATornFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "MVX.MVB")
	for _, before := range []string{"", "torn", string(data)} {
		if before != "" {
			os.WriteFile(path, []byte(before), 0o600)
			os.WriteFile(path+".part", []byte("half"), 0o600)
		}
		if err := Write(Disk{}, dir, "MVX.MVB", data, nil); err != nil {
			t.Fatal(err)
		}
		if b, _ := os.ReadFile(path); !bytes.Equal(b, data) {
			t.Fatal("not what was to be written")
		}
	}
	os.Remove(path)
	if err := os.Symlink("/etc/hostname", path); err != nil {
		t.Skip(err)
	}
	var tr *Trouble
	if err := Write(Disk{}, dir, "MVX.MVB", data, nil); !errors.As(err, &tr) || tr.Code != "name" {
		t.Errorf("a link of our name: %v", err)
	}
	for _, bad := range []string{"", "../x", "a/b", ".hidden"} {
		if err := Write(Disk{}, dir, bad, data, nil); !errors.As(err, &tr) || tr.Code != "name" {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

// fat is a drive that behaves as FAT32 was measured to: a rename makes a folder entry of size zero, which is filled only when the file itself is
// written back again. A yank shows what is really there.
type fat struct {
	FS // of which writing uses only what stands here

	now, disk map[string][]byte // what a program sees; what a yank leaves
	ops, pull int               // operations so far; at which one it is pulled
}

var errPulled = errors.New("pulled")

func (f *fat) op() error {
	if f.ops++; f.ops > f.pull {
		return errPulled
	}
	return nil
}

type fatFile struct {
	f    *fat
	path string
}

func (f *fat) Create(p string) (File, error) {
	if _, ok := f.now[p]; ok {
		return nil, fs.ErrExist
	}
	f.now[p] = []byte{}
	return &fatFile{f, p}, f.op()
}

func (f *fat) Reopen(p string) (File, error) {
	if _, ok := f.now[p]; !ok {
		return nil, fs.ErrNotExist
	}
	return &fatFile{f, p}, f.op()
}

func (f *fat) Rename(a, b string) error {
	f.now[b] = f.now[a]
	delete(f.now, a)
	delete(f.disk, a)
	f.disk[b] = []byte{} // the new entry has no size yet
	return f.op()
}

func (f *fat) Remove(p string) error { delete(f.now, p); delete(f.disk, p); return f.op() }
func (f *fat) SyncDir(string) error  { return f.op() }
func (f *fat) Free(string) int64     { return 1 << 30 }

func (f *fat) Stat(p string) (fs.FileInfo, error) {
	if _, ok := f.now[p]; !ok {
		return nil, fs.ErrNotExist
	}
	return nil, fs.ErrInvalid
}

func (x *fatFile) Write(b []byte) (int, error) {
	x.f.now[x.path] = append(x.f.now[x.path], b...)
	return len(b), x.f.op()
}

func (x *fatFile) ReadAt(b []byte, off int64) (int, error) {
	n := copy(b, x.f.now[x.path][min(int(off), len(x.f.now[x.path])):])
	return n, x.f.op()
}

func (x *fatFile) Sync() error {
	if err := x.f.op(); err != nil {
		return err
	}
	x.f.disk[x.path] = bytes.Clone(x.f.now[x.path])
	return nil
}
func (x *fatFile) DropCache() error { return nil }
func (x *fatFile) Close() error     { return x.f.op() }

// usual is the recipe that is found everywhere: it must lose, or this test says nothing.
func usual(d FS, dir, name string, data []byte) error {
	path := filepath.Join(dir, name)
	f, err := d.Create(path + partial)
	if err != nil {
		return err
	}
	if _, err = f.Write(data); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = d.Rename(path+partial, path)
	}
	return errors.Join(err, d.SyncDir(dir))
}

func TestAYankAfterSafeLosesNothing(t *testing.T) {
	lost := map[string]int{}
	for name, recipe := range map[string]func(d FS) error{
		"ours":  func(d FS) error { return Write(d, "/s", "MV1.MVB", data, nil) },
		"usual": func(d FS) error { return usual(d, "/s", "MV1.MVB", data) },
	} {
		for pull := 0; pull < 60; pull++ {
			f := &fat{now: map[string][]byte{}, disk: map[string][]byte{}, pull: pull}
			if err := recipe(f); err != nil {
				continue // it was not called safe
			}
			if !bytes.Equal(f.disk["/s/MV1.MVB"], data) {
				lost[name]++
			}
		}
	}
	if lost["ours"] != 0 || lost["usual"] == 0 {
		t.Errorf("called safe and not there: %v", lost)
	}
}

func TestNoRoom(t *testing.T) {
	d := small{Disk{}}
	var tr *Trouble
	if err := Write(d, t.TempDir(), "MV1.MVB", data, nil); !errors.As(err, &tr) || tr.Code != "full" {
		t.Error(err)
	}
}

type small struct{ Disk }

func (small) Free(string) int64 { return int64(len(data)) + slack - 1 }
