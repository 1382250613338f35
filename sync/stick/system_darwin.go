package stick

import (
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

func dropCache(f *os.File) error {
	_, err := unix.FcntlInt(f.Fd(), unix.F_NOCACHE, 1)
	return err
}

// drives lists what is mounted below /Volumes beside the system's own disk.
func drives() (out []Drive, err error) {
	list, err := os.ReadDir("/Volumes")
	if err != nil {
		return nil, err
	}
	for _, e := range list {
		path := filepath.Join("/Volumes", e.Name())
		var st unix.Statfs_t
		if !e.IsDir() || unix.Statfs(path, &st) != nil || st.Flags&unix.MNT_ROOTFS != 0 {
			continue // the system's own disk is a link there
		}
		out = append(out, Drive{Path: path, Name: e.Name(), Kind: unix.ByteSliceToString(st.Fstypename[:]), Free: int64(st.Bavail) * int64(st.Bsize), ReadOnly: st.Flags&unix.MNT_RDONLY != 0})
	}
	return out, nil
}
