package store

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// blind is a disk that cannot say what lies on it.
type blind struct{ disk }

func (blind) Stat(string) (fs.FileInfo, error) { return nil, syscall.EIO }

// Where nobody can say whether a copy lies there already, none is written: it could be the last good one.
func TestACopyIsNotWrittenOverUnseen(t *testing.T) {
	w := found(t, t.TempDir())
	w.s.fs = blind{}
	path := filepath.Join(t.TempDir(), "register-1.mvb")
	earlier := []byte("earlier")
	if err := os.WriteFile(path, earlier, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := w.s.Backup(path)
	if b, readErr := os.ReadFile(path); err == nil || readErr != nil || !bytes.Equal(b, earlier) {
		t.Errorf("told %v, and what lay there is %d bytes, %v", err, len(b), readErr)
	}
}
