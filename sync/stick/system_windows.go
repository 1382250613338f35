package stick

import (
	"os"

	"golang.org/x/sys/windows"
)

var (
	errFull     error = windows.ERROR_DISK_FULL
	errReadOnly error = windows.ERROR_WRITE_PROTECT
)

func openPlain(path string) (*os.File, error) {
	fi, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !fi.Mode().IsRegular() {
		return nil, os.ErrInvalid
	}
	return os.Open(path)
}

// syncDir does nothing: the system syncs names with their file.
func syncDir(string) error { return nil }

// dropCache cannot be done on an open file.
func dropCache(*os.File) error { return nil }

func freeBytes(dir string) int64 {
	p, err := windows.UTF16PtrFromString(dir)
	var free uint64
	if err != nil || windows.GetDiskFreeSpaceEx(p, &free, nil, nil) != nil {
		return -1
	}
	return int64(free)
}

// drives lists the letters of removable drives.
func drives() (out []Drive, err error) {
	mask, err := windows.GetLogicalDrives()
	if err != nil {
		return nil, err
	}
	for i := range 26 {
		if mask&(1<<i) == 0 {
			continue
		}
		root := string(rune('A'+i)) + `:\`
		p, err := windows.UTF16PtrFromString(root)
		if err != nil || windows.GetDriveType(p) != windows.DRIVE_REMOVABLE {
			continue
		}
		var kind [32]uint16
		var flags uint32
		if windows.GetVolumeInformation(p, nil, 0, nil, nil, &flags, &kind[0], uint32(len(kind))) != nil {
			continue // no disk in it
		}
		const readOnlyVolume = 0x00080000
		out = append(out, Drive{Path: root, Name: root[:2], Kind: windows.UTF16ToString(kind[:]), Free: freeBytes(root), ReadOnly: flags&readOnlyVolume != 0})
	}
	return out, nil
}
