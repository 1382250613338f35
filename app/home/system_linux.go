package home

import (
	"crypto/sha256"
	"os"
	"strings"
	"time"

	"golang.org/x/sys/unix"

	"mvuke/model"
)

// diskKind names a file system that a register must not lie on; "" is fine.
func diskKind(dir string) string {
	var st unix.Statfs_t
	if unix.Statfs(dir, &st) != nil {
		return ""
	}
	return kindOf(uint32(st.Type))
}

// kindOf names the file systems, by their numbers in statfs(2), that cannot keep a register.
func kindOf(magic uint32) string {
	switch magic {
	case 0x4d44:
		return "FAT"
	case 0x2011bab0:
		return "exFAT"
	case 0x6969, 0xff534d42, 0xfe534d42, 0x517b:
		return "network"
	case 0x65735546:
		return "FUSE (often exFAT or NTFS)"
	}
	return ""
}

// FreeBytes is the room left on the disk of a folder; -1 where it cannot be told.
func FreeBytes(dir string) int64 {
	var st unix.Statfs_t
	if unix.Statfs(dir, &st) != nil {
		return -1
	}
	return int64(st.Bavail) * int64(st.Bsize)
}

func boot() (id model.ID, elapsed time.Duration) {
	var ts unix.Timespec
	if unix.ClockGettime(unix.CLOCK_BOOTTIME, &ts) == nil {
		elapsed = time.Duration(ts.Nano())
	}
	b, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if err == nil {
		sum := sha256.Sum256([]byte(strings.TrimSpace(string(b))))
		copy(id[:], sum[:])
	}
	return id, elapsed
}
