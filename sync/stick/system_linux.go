package stick

import (
	"bufio"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/sys/unix"
)

func dropCache(f *os.File) error {
	if err := unix.Fdatasync(int(f.Fd())); err != nil {
		return err
	}
	return unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED)
}

// drives reads the mounted file systems and keeps those on a removable or USB block device.
func drives() (out []Drive, err error) {
	f, err := os.Open("/proc/self/mountinfo")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	seen := map[string]bool{}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		m, ok := mountOf(lines.Text())
		if !ok || seen[m.device] || !removable("/sys/dev/block", m.device) {
			continue
		}
		seen[m.device] = true
		out = append(out, Drive{Path: m.path, Name: filepath.Base(m.path), Kind: m.kind, Free: freeBytes(m.path), ReadOnly: m.readOnly})
	}
	return out, lines.Err()
}

type mount struct {
	device, path, kind string
	readOnly           bool
}

// mountOf reads a line of mountinfo (proc(5)): id, parent, major:minor, root, mount point, options, ..., "-", type, source, options.
func mountOf(line string) (m mount, ok bool) {
	left, right, ok := strings.Cut(line, " - ")
	a, b := strings.Fields(left), strings.Fields(right)
	if !ok || len(a) < 6 || len(b) < 1 {
		return m, false
	}
	m = mount{device: a[2], path: unescape(a[4]), kind: b[0]}
	for _, o := range strings.Split(a[5], ",") {
		m.readOnly = m.readOnly || o == "ro"
	}
	if len(b) > 2 {
		for _, o := range strings.Split(b[2], ",") {
			m.readOnly = m.readOnly || o == "ro"
		}
	}
	return m, !strings.HasPrefix(m.device, "0:")
}

// unescape undoes the octal signs for blanks in mount points.
func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+3 < len(s) {
			if n, err := strconv.ParseUint(s[i+1:i+4], 8, 8); err == nil {
				b.WriteByte(byte(n))
				i += 3
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// removable says whether a block device can be taken away: it says so itself, or it hangs on USB or is a memory card.
func removable(sys, device string) bool {
	path, err := filepath.EvalSymlinks(filepath.Join(sys, device))
	if err != nil {
		return false
	}
	if strings.Contains(path, "/usb") || strings.Contains(path, "/mmc_host/") {
		return true
	}
	for _, p := range []string{path, filepath.Dir(path)} { // the partition's disk has the mark
		if b, err := os.ReadFile(filepath.Join(p, "removable")); err == nil && strings.TrimSpace(string(b)) == "1" {
			return true
		}
	}
	return false
}
