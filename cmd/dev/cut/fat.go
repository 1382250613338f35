//go:build linux && amd64

package cut

import (
	"errors"
	"os/exec"
)

// ReadyFAT reports why no stick can be yanked here, or nil.
func ReadyFAT() error {
	k, err := findKernel()
	if err != nil {
		return err
	}
	if _, err := k.load(k.needs(true)); err != nil {
		return err
	}
	_, err = mkfsFAT()
	return err
}

// mkfsFAT finds what makes a FAT disk.
func mkfsFAT() (path string, err error) {
	for _, name := range []string{"mkfs.vfat", "/usr/sbin/mkfs.vfat", "/sbin/mkfs.vfat"} {
		if path, err = exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no mkfs.vfat: apt-get install dosfstools")
}
