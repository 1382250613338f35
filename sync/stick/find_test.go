//go:build !windows

package stick

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

var mark = []byte("\x89MVB\r\n\x1a\n")

func file(t *testing.T, path string, b []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Case 77: an infected stick: folders hidden, shortcuts in their place, an autorun file. Only files that begin as ours are seen, whatever they are
// called and wherever they lie; nothing is followed, run or changed.
func TestCase077InfectedStick(t *testing.T) {
	dir := t.TempDir()
	ours := append(append([]byte{}, mark...), "rest"...)
	file(t, filepath.Join(dir, "MVAAAA-1-1.MVB"), ours)
	file(t, filepath.Join(dir, ".Trashes", "hidden", "whatever.bin"), ours)
	file(t, filepath.Join(dir, "MVBBBB-1-1.MVB.lnk"), []byte("L\x00\x00\x00"))
	file(t, filepath.Join(dir, "autorun.inf"), []byte("[autorun]"))
	file(t, filepath.Join(dir, "MVCCCC-1-1.MVB"), []byte("not ours"))
	file(t, filepath.Join(dir, "short"), mark[:4])
	file(t, filepath.Join(dir, "a", "b", "c", "d", "e", "too deep.MVB"), ours)
	outside := filepath.Join(t.TempDir(), "outside")
	file(t, filepath.Join(outside, "x.MVB"), ours)
	if err := os.Symlink(outside, filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(outside, "x.MVB"), filepath.Join(dir, "MVDDDD-1-1.MVB")); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
		t.Fatal(err)
	}
	before := listing(t, dir)
	s, err := Find(Disk{}, dir, mark)
	if err != nil || len(s.Files) != 2 || s.Cut {
		t.Errorf("%+v %v", s, err)
	}
	if after := listing(t, dir); after != before {
		t.Errorf("the stick was changed:\n%s\n%s", before, after)
	}
}

func listing(t *testing.T, dir string) (out string) {
	t.Helper()
	filepath.Walk(dir, func(p string, fi os.FileInfo, err error) error {
		out += fmt.Sprintln(p, fi.Mode(), fi.Size(), fi.ModTime().UnixNano())
		return err
	})
	return out
}

// A folder of very many names is given up on soon, says so, and what was found until then is of use.
func TestVeryManyNames(t *testing.T) {
	dir := t.TempDir()
	file(t, filepath.Join(dir, "aaa.MVB"), mark)
	for i := range MostNames + 50 {
		if err := os.Symlink("x", filepath.Join(dir, fmt.Sprintf("n%d", i))); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Find(Disk{}, dir, mark)
	if err != nil || !s.Cut || s.Names != MostNames+1 {
		t.Errorf("%d names, cut %v, %v", s.Names, s.Cut, err)
	}
	clock := time.Unix(0, 0)
	s, err = find(Disk{}, dir, mark, func() time.Time { clock = clock.Add(time.Second); return clock })
	if err != nil || !s.Cut || s.Names > 10 {
		t.Errorf("a slow drive: %d names, cut %v, %v", s.Names, s.Cut, err)
	}
	var tr *Trouble
	if _, err := Find(Disk{}, filepath.Join(dir, "nowhere"), mark); !errors.As(err, &tr) || tr.Code != "gone" {
		t.Error(err)
	}
}

// A file larger than what is read is refused before it is read, also where nothing is behind its size.
func TestCopyIsBounded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sparse")
	file(t, path, mark)
	if err := os.Truncate(path, 5<<30); err != nil {
		t.Skip(err)
	}
	var tr *Trouble
	if _, err := Copy(Disk{}, Found{path, 5 << 30}, 64<<20); !errors.As(err, &tr) || tr.Code != "large" {
		t.Error(err)
	}
	if _, err := Copy(Disk{}, Found{path, 10}, 1000); !errors.As(err, &tr) || tr.Code != "large" { // it grew
		t.Error(err)
	}
	file(t, path+"2", mark)
	if b, err := Copy(Disk{}, Found{path + "2", 8}, 8); err != nil || string(b) != string(mark) {
		t.Error(b, err)
	}
}

// locked is a drive of which some names give an error.
type locked struct {
	Disk
	names map[string]error
}

func (l locked) OpenDir(p string) (fs.ReadDirFile, error) {
	if err := l.names[filepath.Base(p)]; err != nil {
		return nil, err
	}
	return l.Disk.OpenDir(p)
}

// A folder that cannot be read may hold ours and is told by name; one that a system locks for itself is not.
func TestWhatCannotBeReadIsTold(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"lost+found", "ours", "broken"} {
		file(t, filepath.Join(dir, name, "x.MVB"), mark)
	}
	s, err := Find(locked{names: map[string]error{"lost+found": fs.ErrPermission, "broken": syscall.EIO}}, dir, mark)
	if err != nil || len(s.Files) != 1 || len(s.Unread) != 1 || filepath.Base(s.Unread[0]) != "broken" {
		t.Errorf("%+v %v", s, err)
	}
	var tr *Trouble
	if _, err := Find(locked{names: map[string]error{filepath.Base(dir): syscall.EIO}}, dir, mark); !errors.As(err, &tr) || tr.Code != "read" {
		t.Error(err)
	}
}
