package exchange

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"math/rand/v2"
	"strings"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/sync/bundle"
)

func pack(raw []byte, root ed25519.PrivateKey) []byte {
	out := append(bytes.Clone(askMagic), binary.BigEndian.AppendUint32(nil, uint32(len(raw)))...)
	out = append(append(out, raw...), ed25519.Sign(root, append([]byte("mvuke ask 1"), raw...))...)
	sum := sha256.Sum256(out)
	return append(out, sum[:]...)
}

func TestSecondAttackAsk(t *testing.T) {
	root := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{7}, 32))
	box, _ := NewBox()
	heads := []bundle.Head{{Stream: entry.Stream{1}, Seq: 1 << 63, ID: entry.ID{1}}}
	f, a, err := WriteAsk(Ask{Site: model.ID{1}, Name: "Clinic", Box: box.Address(), Heads: heads}, root)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 1))
	taken := 0
	for range 60000 {
		raw := bytes.Clone(a.Raw)
		for range 1 + rng.IntN(3) {
			raw[rng.IntN(len(raw))] = byte(rng.Uint32())
		}
		if rng.IntN(4) == 0 {
			raw = raw[:rng.IntN(len(raw))]
		}
		if x, err := ReadAsk(pack(raw, root)); err == nil {
			taken++
			if again, err := bundle.Encode(x); err != nil || !bytes.Equal(again, raw) {
				t.Fatalf("read in another spelling")
			}
		}
	}
	t.Log("taken", taken)
	for n := range len(f.Data) {
		if _, err := ReadAsk(f.Data[:n]); err == nil {
			t.Fatal("cut")
		}
		g := bytes.Clone(f.Data)
		g[n] ^= 1
		if _, err := ReadAsk(g); err == nil {
			t.Fatal("flipped", n)
		}
	}
	// duplicate key: 2 twice
	dup := append(bytes.Clone(a.Raw), 0x04, 0x61, 'x')
	dup[0]++
	if _, err := ReadAsk(pack(dup, root)); err == nil {
		t.Error("duplicate key")
	}
	huge := bytes.Clone(f.Data)
	binary.BigEndian.PutUint32(huge[8:], 0xffffffff)
	if _, err := ReadAsk(huge); err == nil {
		t.Error("huge")
	}
	for _, name := range []string{"", "a\nb\x00", "\u202egnp", strings.Repeat("x", 120)} {
		_, _, err := WriteAsk(Ask{Site: model.ID{1}, Name: name, Box: box.Address()}, root)
		t.Logf("%q %v", name, err)
	}
	// a clinic with a long past: many streams
	for _, n := range []int{500, 1000, 1200} {
		var hs []bundle.Head
		for i := range n {
			hs = append(hs, bundle.Head{Stream: entry.Stream{byte(i), byte(i >> 8)}, Seq: 70000, ID: entry.ID{byte(i)}})
		}
		_, _, err := WriteAsk(Ask{Site: model.ID{1}, Name: "x", Box: box.Address(), Heads: hs}, root)
		t.Log(n, err)
	}
}
