package work_test

import (
	"os"
	"path/filepath"
	"testing"

	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
)

func opens(t *testing.T, dir string, box exchange.Box) (n int) {
	fs, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fs {
		raw, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			continue
		}
		p, err := bundle.LookBytes(raw)
		if err != nil {
			continue
		}
		if _, err := p.Open(box.Identity()); err == nil {
			n++
		} else {
			t.Log(err)
		}
	}
	return n
}
