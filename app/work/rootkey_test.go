package work_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// rootFiles are the keys of the root in a folder: root.key, root-next.key, and those that were set aside.
func (b *bench) rootFiles() (out []string) {
	files, err := os.ReadDir(filepath.Join(b.dir, "keys"))
	b.check(err)
	for _, f := range files {
		if strings.HasPrefix(f.Name(), "root") {
			out = append(out, f.Name())
		}
	}
	return out
}

func TestAReplacedRootIsFinishedAfterAPowerCut(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	h := newHouse(t, "Clinic Ndovu", 1200, false)
	defer func() { _ = h.d.Close() }()
	key := func(name string) string { return filepath.Join(h.dir, "keys", name) }
	old, err := h.d.KeyWords("root")
	h.check(err)
	h.check(h.d.ReplaceRoot())
	now, err := h.d.KeyWords("root")
	h.check(err)
	if strings.Join(old, " ") == strings.Join(now, " ") || len(h.rootFiles()) != 2 {
		t.Fatalf("the root was not replaced: %v", h.rootFiles())
	}
	aside := ""
	for _, f := range h.rootFiles() {
		if strings.HasSuffix(f, ".old") {
			aside = f
		}
	}
	for _, cut := range []func() error{
		func() error { return os.Rename(key("root.key"), key("root-next.key")) }, // between the two renames
		func() error { // before both
			if err := os.Rename(key("root.key"), key("root-next.key")); err != nil {
				return err
			}
			return os.Rename(key(aside), key("root.key"))
		},
	} {
		h.check(cut())
		if _, err := h.d.Ask(t.TempDir()); err != nil { // whatever wants the root first finds it
			t.Fatal(err)
		}
		again, err := h.d.KeyWords("root")
		h.check(err)
		if strings.Join(again, " ") != strings.Join(now, " ") || len(h.rootFiles()) != 2 {
			t.Fatalf("after a cut: %v", h.rootFiles())
		}
	}
}

func TestACopyWithTheOldRootSaysWhereTheNewOneIs(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	h := newHouse(t, "Clinic Ndovu", 1200, false)
	defer func() { _ = h.d.Close() }()
	raw, err := os.ReadFile(filepath.Join(h.dir, "keys", "root.key"))
	h.check(err)
	h.check(h.d.ReplaceRoot())
	h.check(os.WriteFile(filepath.Join(h.dir, "keys", "root.key"), raw, 0o600))
	if _, err := h.d.Ask(t.TempDir()); err == nil || !strings.Contains(err.Error(), "root-replaced") {
		t.Errorf("the old root asks: %v", err)
	}
	if err := h.d.ReplaceRoot(); err == nil || !strings.Contains(err.Error(), "root-replaced") {
		t.Errorf("the old root names another: %v", err)
	}
}
