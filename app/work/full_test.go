//go:build linux

package work_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/store"
)

// On a disk without a byte of room the desk refuses acts, and opens if it can; where it cannot,
// it says that the disk is full and not that the register is damaged. With room again
// everything is there. The witness lies on the same disk, as it does on most.
func TestFullDiskIsNotDamage(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can mount a small disk to fill")
	}
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=8m"); err != nil {
		t.Skip("no small disk can be mounted here: ", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error("the small disk stays mounted:", err)
		}
	})
	t.Setenv("MVUKE_STATE", filepath.Join(dir, "state"))
	reg := filepath.Join(dir, "register")
	open := func() (*work.Desk, error) { return work.Open(reg, work.Options{}) }
	d, err := open()
	if err != nil {
		t.Fatal(err)
	}
	defer func() { d.Close() }()
	if err := d.SetUp(demo.Answers("en")); err != nil {
		t.Fatal(err)
	}
	glut := filepath.Join(dir, "glut")
	if err := os.WriteFile(glut, make([]byte, 8<<20), 0o600); err == nil {
		t.Fatal("the disk took more than there is room for")
	}
	kept := 0
	for ; ; kept++ {
		_, err := d.AddPerson(model.Person{Name: "x", Roles: []model.Role{model.RoleRecorder}})
		if c := code(err); c == "not-saved" || c == "disk-full" {
			break
		} else if err != nil || kept > 1000 {
			t.Fatal(kept, err)
		}
	}
	stream := d.StreamName()
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	for _, tail := range []string{"", "-wal", "-shm"} { // read tables that must be made anew need room
		os.Remove(filepath.Join(reg, store.ViewsFile+tail))
	}
	if f, err := os.OpenFile(glut, os.O_WRONLY|os.O_APPEND, 0); err == nil {
		f.Write(make([]byte, 8<<20)) // takes what that has freed; it must end in "no space"
		f.Close()
	}
	if full, err := open(); err == nil {
		full.Close()
		t.Error("the disk is not full enough to show anything")
	} else if code(err) != "disk-full" {
		t.Error("told the person:", err)
	}
	if err := os.Remove(glut); err != nil {
		t.Fatal(err)
	}
	if d, err = open(); err != nil {
		t.Fatal(err)
	}
	people, err := d.People()
	if err != nil || len(people) != 1+kept || d.StreamName() != stream {
		t.Errorf("%d people, %d were kept; stream %s was %s (%v)", len(people), 1+kept, d.StreamName(), stream, err)
	}
	if r, err := d.Store.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}
