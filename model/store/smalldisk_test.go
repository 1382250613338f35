//go:build linux

package store

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// smallDisk is a disk of its own that can be filled.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("only root can mount a small disk to fill")
	}
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size)); err != nil {
		t.Skip("no small disk can be mounted here: ", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error("the small disk stays mounted:", err)
		}
	})
	return dir
}

func grow(t *testing.T, dir string, size int) {
	t.Helper()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, fmt.Sprintf("size=%d", size)); err != nil {
		t.Fatal(err)
	}
}

// spareRoom lays two megabytes by, to be given up when the disk is full.
func spareRoom(t *testing.T, dir string) (path string) {
	t.Helper()
	path = filepath.Join(dir, "spare")
	if err := os.WriteFile(path, make([]byte, 2<<20), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
