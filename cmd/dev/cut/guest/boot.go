//go:build linux

package main

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"time"
)

// disk is the first block device of the guest, the one under test.
const disk = "/dev/ubda"

// boot mounts the file systems a Go program and SQLite need, and the disk
// under test at /data. Mounting ext4 replays its journal, as a machine does
// when the power is back. It returns the words of the kernel command line.
func boot() ([]string, error) {
	for _, m := range []struct{ what, where, kind string }{
		{"proc", "/proc", "proc"},
		{"dev", "/dev", "devtmpfs"},
		{"tmp", "/tmp", "tmpfs"},
		{disk, "/data", "ext4"},
	} {
		if err := os.MkdirAll(m.where, 0o755); err != nil {
			return nil, err
		}
		if err := mount(m.what, m.where, m.kind); err != nil {
			return nil, err
		}
	}
	line, err := os.ReadFile("/proc/cmdline")
	if err != nil {
		return nil, err
	}
	return strings.Fields(string(line)), nil
}

func mount(what, where, kind string) error {
	err := syscall.Mount(what, where, kind, 0, "")
	if err != nil {
		return fmt.Errorf("mount %s at %s: %w", what, where, err)
	}
	return nil
}

// powerOff ends the machine in good order, with the disk unmounted. It does
// not return.
func powerOff() {
	_ = os.Chdir("/")
	if err := syscall.Unmount("/data", 0); err != nil {
		syscall.Sync()
	}
	_ = syscall.Reboot(syscall.LINUX_REBOOT_CMD_POWER_OFF)
	for {
		time.Sleep(time.Hour) // process 1 must never end
	}
}
