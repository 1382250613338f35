package home

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
)

// Room on the disk.
const (
	BallastBytes = 32 << 20  // given up when the disk is full, so that the last cycle can be finished
	LowRoom      = 500 << 20 // below it the program says so
	NoRoom       = 100 << 20 // below it no new cycle
)

// KeepBallast makes the ballast if there is room to spare.
func KeepBallast(dir string) error {
	path := filepath.Join(dir, "ballast")
	if fi, err := os.Stat(path); err == nil && fi.Size() >= BallastBytes {
		return nil
	}
	if free := FreeBytes(dir); free >= 0 && free < NoRoom {
		return nil
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	chunk := make([]byte, 1<<20)
	for i := range chunk {
		chunk[i] = byte(i*7 + i>>8) // not zeros: some file systems store no zeros
	}
	for range BallastBytes / len(chunk) {
		if _, err := f.Write(chunk); err != nil {
			return os.Remove(path)
		}
	}
	return f.Sync()
}

// DropBallast gives the room away; false: there was none.
func DropBallast(dir string) bool { return os.Remove(filepath.Join(dir, "ballast")) == nil }

// name is a short name for a path.
func name(path string) string {
	sum := sha256.Sum256([]byte(path))
	return hex.EncodeToString(sum[:8])
}
