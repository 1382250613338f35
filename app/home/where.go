package home

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
)

// Where is the person's own data folder: MVUKE_DATA, else the system's place for a program's data.
func Where() (string, error) {
	if d := os.Getenv("MVUKE_DATA"); d != "" {
		return filepath.Abs(d)
	}
	base := os.Getenv("XDG_DATA_HOME")
	switch {
	case runtime.GOOS == "windows" || runtime.GOOS == "darwin":
		c, err := os.UserConfigDir()
		if err != nil {
			return "", err
		}
		base = c
	case base == "":
		h, err := os.UserHomeDir()
		if err != nil {
			return "", err
		}
		base = filepath.Join(h, ".local", "share")
	}
	return filepath.Join(base, "mvuke"), nil
}

// stateDir is where the witness lies: apart from the data, so that a copied data folder does
// not bring its witness along.
func stateDir() (string, error) {
	if d := os.Getenv("MVUKE_STATE"); d != "" {
		return filepath.Abs(d)
	}
	if d := os.Getenv("XDG_STATE_HOME"); d != "" {
		return filepath.Join(d, "mvuke"), nil
	}
	h, err := os.UserHomeDir()
	if err != nil {
		return "", err
	}
	if runtime.GOOS == "windows" {
		c, err := os.UserCacheDir()
		return filepath.Join(c, "mvuke-state"), err
	}
	return filepath.Join(h, ".local", "state", "mvuke"), nil
}

// BadDisk says that the data folder lies where a register is not safe.
type BadDisk struct{ Kind string }

func (e *BadDisk) Error() string {
	return fmt.Sprintf("home: the data folder is on a %s disk, which can neither keep keys private nor survive a power cut; use the computer's own disk", e.Kind)
}

// CheckDisk refuses FAT, exFAT and network file systems, and folders where a private
// file does not stay private.
func CheckDisk(dir string) error {
	if kind := diskKind(dir); kind != "" {
		return &BadDisk{kind}
	}
	if runtime.GOOS == "windows" {
		return nil
	}
	probe := filepath.Join(dir, ".probe")
	if err := os.WriteFile(probe, nil, 0o600); err != nil {
		return fmt.Errorf("home: cannot write to the data folder %s: %w", dir, err)
	}
	defer os.Remove(probe)
	fi, err := os.Stat(probe)
	if err != nil {
		return err
	}
	if fi.Mode().Perm() != 0o600 {
		return &BadDisk{"shared"}
	}
	return nil
}
