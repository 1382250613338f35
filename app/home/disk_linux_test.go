package home

import "testing"

func TestDisksThatCannotKeepARegister(t *testing.T) {
	for magic, want := range map[uint32]string{0x4d44: "FAT", 0x2011bab0: "exFAT", 0x6969: "network", 0xff534d42: "network",
		0xfe534d42: "network", 0xef53: "", 0x58465342: "", 0x9123683e: "", 0x01021994: ""} { // the last four: ext4, xfs, btrfs, tmpfs
		if got := kindOf(magic); got != want {
			t.Errorf("%#x is %q, want %q", magic, got, want)
		}
	}
}
