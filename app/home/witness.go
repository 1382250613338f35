package home

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
)

// Witness is what this machine remembers of its own stream, apart from the data folder.
type Witness struct {
	Stream string `json:"stream"`
	Seq    uint64 `json:"seq"`
	Head   string `json:"head"`
}

// WitnessFile keeps the witness of one data folder.
type WitnessFile struct {
	fs   FS
	path string
}

// OpenWitness finds the place of a folder's witness. The folder is told by its path: a copy
// of it on another machine, or in another place, finds none.
func OpenWitness(f FS, dir string) (*WitnessFile, error) {
	state, err := stateDir()
	if err != nil {
		return nil, err
	}
	if err := f.MkdirAll(state, 0o700); err != nil {
		return nil, err
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	return &WitnessFile{f, filepath.Join(state, "witness-"+name(abs))}, nil
}

// Read gives the witness; ok is false where there is none that can be read.
func (w *WitnessFile) Read() (x Witness, ok bool, err error) {
	b, err := w.fs.ReadFile(w.path)
	if errors.Is(err, fs.ErrNotExist) {
		return x, false, nil
	}
	if err != nil {
		return x, false, err
	}
	return x, json.Unmarshal(b, &x) == nil, nil
}

// Forget removes it.
func (w *WitnessFile) Forget() error {
	if err := w.fs.Remove(w.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// Write remembers where the stream stands, synced.
func (w *WitnessFile) Write(stream []byte, seq uint64, head []byte) error {
	b, err := json.Marshal(Witness{hex.EncodeToString(stream), seq, hex.EncodeToString(head)})
	if err != nil {
		return err
	}
	return replace(w.fs, w.path, b, 0o600)
}

// Memory compares a witness with the register.
type Memory string

// What the witness tells.
const (
	MemoryGood   Memory = "good"   // the register is where the witness left it, or ahead
	MemoryNone   Memory = "none"   // no witness, yet our stream has entries: a copied folder
	MemoryBehind Memory = "behind" // the register is older than the witness: a restored copy
	MemoryOther  Memory = "other"  // the witness speaks of another history
)

// Remember judges a register whose own stream ends at seq with head; headAt gives the head
// that the stream had at an earlier number.
func Remember(x Witness, ok bool, stream []byte, seq uint64, headAt func(uint64) ([]byte, bool)) Memory {
	switch {
	case seq == 0 && !ok:
		return MemoryGood
	case !ok:
		return MemoryNone
	case x.Stream != hex.EncodeToString(stream):
		return MemoryOther
	case seq < x.Seq:
		return MemoryBehind
	}
	if x.Seq == 0 {
		return MemoryGood
	}
	if h, have := headAt(x.Seq); !have || hex.EncodeToString(h) != x.Head {
		return MemoryOther
	}
	return MemoryGood
}
