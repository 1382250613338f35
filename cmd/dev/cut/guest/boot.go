//go:build linux

package main

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// boot mounts the file systems a Go program and SQLite need, and the disk
// under test at /data. Mounting ext4 replays its journal, as a machine does
// when the power is back. It returns the words of the kernel command line.
func boot() ([]string, error) {
	for _, m := range []struct{ what, where, kind string }{
		{"proc", "/proc", "proc"},
		{"dev", "/dev", "devtmpfs"},
		{"tmp", "/tmp", "tmpfs"},
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
	fmt.Println() // what was said before us may have left its line open
	words := strings.Fields(string(line))
	if err := loadModules(); err != nil {
		return nil, err
	}
	if err := os.MkdirAll("/data", 0o755); err != nil {
		return nil, err
	}
	s := readSettings(words)
	for range 50 { // a driver that was just loaded takes a moment to find its disk
		if _, err := os.Stat(s["disk"]); err == nil {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	return words, mount(s["disk"], "/data", s["fs"])
}

// loadModules loads what lies in the initramfs beside the program, in its order.
func loadModules() error {
	for i := 0; ; i++ {
		f, err := os.Open(fmt.Sprintf("/modules/%d.ko", i))
		if os.IsNotExist(err) {
			return nil
		}
		if err != nil {
			return err
		}
		err = unix.FinitModule(int(f.Fd()), "", 0)
		f.Close()
		if err != nil {
			return fmt.Errorf("module %d: %w", i, err)
		}
	}
}

func mount(what, where, kind string) error {
	options := ""
	if kind == "vfat" { // kernels differ in what they take if nothing is said
		options = "codepage=437,iocharset=iso8859-1"
	}
	err := syscall.Mount(what, where, kind, 0, options)
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
