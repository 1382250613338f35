package stick

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestMountsAreRead(t *testing.T) {
	for line, want := range map[string]string{
		`36 35 8:17 / /media/asha/MY\040STICK rw,nosuid - vfat /dev/sdb1 rw,flush`: "8:17 /media/asha/MY STICK vfat false",
		`36 35 8:17 / /media/x ro - exfat /dev/sdb1 ro`:                            "8:17 /media/x exfat true",
	} {
		m, ok := mountOf(line)
		if got := fmt.Sprint(m.device, " ", m.path, " ", m.kind, " ", m.readOnly); !ok || got != want {
			t.Errorf("%q: %q", line, got)
		}
	}
	for _, line := range []string{"", "1 2 3", "22 1 0:21 / /proc rw - proc proc rw"} {
		if _, ok := mountOf(line); ok {
			t.Errorf("%q is a drive", line)
		}
	}
	if ds, err := Drives(); err != nil {
		t.Error(err)
	} else {
		t.Logf("%d drives here", len(ds))
	}
}

func TestRemovableDevices(t *testing.T) {
	sys := t.TempDir()
	mk := func(dev, target, mark string) {
		dir := filepath.Join(sys, "devices", target)
		os.MkdirAll(dir, 0o755)
		if mark != "" {
			os.WriteFile(filepath.Join(dir, "removable"), []byte(mark+"\n"), 0o644)
		}
		os.MkdirAll(filepath.Join(sys, "block"), 0o755)
		os.Symlink(dir, filepath.Join(sys, "block", dev))
	}
	mk("8:0", "pci/ata1/sda", "0")
	mk("8:16", "pci/usb1/sdb/sdb1", "")
	mk("179:1", "platform/mmc_host/mmc0/mmcblk0", "")
	mk("8:32", "pci/x/sdc", "1")
	for dev, want := range map[string]bool{"8:0": false, "8:16": true, "179:1": true, "8:32": true, "9:9": false} {
		if got := removable(filepath.Join(sys, "block"), dev); got != want {
			t.Errorf("%s: %v", dev, got)
		}
	}
}
