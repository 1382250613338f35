package bundle

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"filippo.io/age"

	"mvuke/model"
	"mvuke/model/entry"
)

func key(n byte) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, ed25519.SeedSize))
}

var (
	ours, _   = age.GenerateX25519Identity()
	theirs, _ = age.GenerateX25519Identity()
	district  = entry.DistrictOf(key(1).Public().(ed25519.PublicKey))
)

// stream is n entries of a device that follow on one another.
func stream(t testing.TB, k ed25519.PrivateKey, n int) (out []entry.Sealed) {
	t.Helper()
	a := entry.NewAuthor(k, district)
	at := model.Moment{Wall: time.UnixMilli(1_800_000_000_000), Boot: model.ID{7}}
	for i := range n {
		at.Wall, at.Elapsed = at.Wall.Add(time.Minute), at.Elapsed+time.Minute
		v, err := a.Sign(entry.Draft{Kind: model.KindStock, Person: model.ID{3}, Targets: []model.Ref{{Noun: model.NounSite, ID: model.ID{9}}},
			Payload: model.StockTold{What: model.StockTape, Amount: int64(i), Counted: true, At: at.Wall.UnixMilli()}}, at, model.ClockGood)
		if err != nil {
			t.Fatal(err)
		}
		a.Advance(v)
		out = append(out, v.Sealed())
	}
	return out
}

func sender() Sender {
	return Sender{District: district, Key: key(2), Wall: 1_800_000_100_000, Clock: model.ClockGood, Recipients: []*age.X25519Recipient{ours.Recipient()}, ID: [16]byte{1, 2, 3}}
}

func content(t testing.TB, n int) Content {
	t.Helper()
	st, err := SignStanding(Standing{District: district, Holder: entry.StreamOf(key(2).Public().(ed25519.PublicKey)), Counter: 12, Heads: []Head{{Seq: 4}}}, key(2))
	if err != nil {
		t.Fatal(err)
	}
	return Content{Standings: []Signed{st}, Segments: Segments(1, stream(t, key(2), n))}
}

func written(t testing.TB, s Sender, c Content) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, 1, 1, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// taken opens a file and gives all its entries, or the fault.
func taken(b []byte, keys ...age.Identity) (out []entry.Sealed, err error) {
	p, err := LookBytes(b)
	if err != nil {
		return nil, err
	}
	o, err := p.Open(keys...)
	if err != nil {
		return nil, err
	}
	err = o.Each(func(s Segment) error { out = append(out, s.Entries...); return nil })
	return out, err
}

// What goes in comes out, byte for byte, and every entry verifies by its own signature.
func TestRoundTrip(t *testing.T) {
	for _, n := range []int{0, 1, 2, 300, 9000} {
		c := content(t, n)
		got, err := taken(written(t, sender(), c), ours)
		if err != nil {
			t.Fatal(n, err)
		}
		want := []entry.Sealed{}
		for _, s := range c.Segments {
			want = append(want, s.Entries...)
		}
		if len(got) != n || len(want) != n {
			t.Fatalf("%d of %d entries", len(got), n)
		}
		for i := range got {
			if !bytes.Equal(got[i].Body, want[i].Body) || !bytes.Equal(got[i].Sig, want[i].Sig) {
				t.Fatalf("entry %d is not what was sent", i)
			}
			if _, err := entry.Verify(got[i]); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A body that does not begin as all do goes uncut, and comes out the same.
func TestUnusualBodiesGoUncut(t *testing.T) {
	s := Segment{First: 3, Entries: []entry.Sealed{{Body: []byte{1, 2, 3}, Key: key(2).Public().(ed25519.PublicKey), Sig: []byte{9}}, {Body: bytes.Repeat([]byte{7}, 99), Key: key(2).Public().(ed25519.PublicKey), Sig: []byte{8}}}}
	x := pack(s)
	back, err := x.unpack()
	if x.Cut || err != nil || back.First != 3 || !bytes.Equal(back.Entries[1].Body, s.Entries[1].Body) {
		t.Errorf("cut %v, %v", x.Cut, err)
	}
}

func TestFaultsHaveTheirCode(t *testing.T) {
	good := written(t, sender(), content(t, 5))
	again := func(change func(b []byte) []byte) []byte { return change(slices.Clone(good)) }
	rehash := func(b []byte) []byte {
		sum := sha256.Sum256(b[:len(b)-trailer+8])
		copy(b[len(b)-40:], sum[:])
		return b
	}
	text := again(func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n")) })
	for name, c := range map[string]struct {
		b    []byte
		want Code
	}{
		"empty":         {nil, Incomplete},
		"a photo":       {bytes.Repeat([]byte{0xff, 0xd8, 1}, 100), NotABundle},
		"short photo":   {[]byte{0xff, 0xd8}, NotABundle},
		"begun":         {good[:20], Incomplete},
		"pulled at 60%": {good[:len(good)*6/10], Incomplete},
		"last byte":     {good[:len(good)-1], Incomplete},
		"text mode":     {text, NotABundle},
		"more behind":   {append(slices.Clone(good), 0), Incomplete},
		"one bit":       {again(func(b []byte) []byte { b[len(b)/2] ^= 4; return b }), Damaged},
		"newer":         {again(func(b []byte) []byte { binary.BigEndian.PutUint16(b[8:], 2); return rehash(b) }), Newer},
		"not for us":    {written(t, Sender{District: district, Key: key(2), Recipients: []*age.X25519Recipient{theirs.Recipient()}, ID: [16]byte{4}}, content(t, 2)), NotForUs},
		"sealed bit":    {again(func(b []byte) []byte { b[len(b)-trailer-20] ^= 1; return rehash(b) }), Damaged},
		"zeros in it":   {again(func(b []byte) []byte { clear(b[preamble : preamble+40]); return rehash(b) }), Malformed},
	} {
		if _, err := taken(c.b, ours); CodeOf(err) != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	if p, err := LookBytes(good); err != nil || !p.For(ours.Recipient().String()) || p.For(theirs.Recipient().String()) {
		t.Errorf("the hint does not tell whose it is: %v", err)
	}
}

// What a sender says outside and what it signed inside must be one.
func TestOutsideAndInsideAgree(t *testing.T) {
	var b bytes.Buffer
	s := sender()
	if err := Write(&b, s, 1, 2, content(t, 3)); err != nil {
		t.Fatal(err)
	}
	raw := b.Bytes()
	p, err := LookBytes(raw)
	if err != nil {
		t.Fatal(err)
	}
	i := bytes.Index(raw, p.ID[:])
	for name, change := range map[string]func(b []byte){
		"bundle id": func(b []byte) { b[i] ^= 1 }, "part": func(b []byte) { b[i+17] = 2 },
	} {
		x := slices.Clone(raw)
		change(x)
		sum := sha256.Sum256(x[:len(x)-trailer+8])
		copy(x[len(x)-40:], sum[:])
		if _, err := taken(x, ours); CodeOf(err) != Unsigned {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Every truncation of a bundle is refused as incomplete, and nothing of it is given out.
func TestEveryTruncationIsIncomplete(t *testing.T) {
	good := written(t, sender(), content(t, 3))
	for n := range len(good) {
		if got, err := taken(good[:n], ours); CodeOf(err) != Incomplete || len(got) > 0 {
			t.Fatalf("cut at %d of %d: %v, %d entries", n, len(good), err, len(got))
		}
	}
}

// flips is how many bits are turned.
const flips = 20_000

// A bit turned anywhere is found: by the trailer's hash, and where that is made anew by the encryption or the signature.
func TestBitFlipsAreFound(t *testing.T) {
	good := written(t, sender(), content(t, 40))
	rng := rand.New(rand.NewPCG(4, 5))
	seen := map[Code]int{}
	for i := range flips {
		b := slices.Clone(good)
		bit := rng.IntN(len(b) * 8)
		b[bit/8] ^= 1 << (bit % 8)
		if i%2 == 1 && bit/8 < len(b)-trailer+8 { // somebody who makes the hash fit
			sum := sha256.Sum256(b[:len(b)-trailer+8])
			copy(b[len(b)-40:], sum[:])
		}
		got, err := taken(b, ours)
		if err == nil || len(got) > 0 {
			t.Fatalf("bit %d was turned, and %d entries came out, %v", bit, len(got), err)
		}
		if CodeOf(err) == "" {
			t.Fatalf("bit %d: no code: %v", bit, err)
		}
		seen[CodeOf(err)]++
	}
	t.Logf("%d flips: %v", flips, seen)
}

func FuzzLook(f *testing.F) {
	f.Add(written(f, sender(), content(f, 2)))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := LookBytes(b)
		if err != nil {
			if CodeOf(err) == "" {
				t.Fatal(err)
			}
			return
		}
		if _, err := p.Open(ours); err != nil && CodeOf(err) == "" {
			t.Fatal(err)
		}
	})
}

func FuzzFrame(f *testing.F) {
	var b bytes.Buffer
	if err := putFrame(&b, frameEnd, end{3}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, raw []byte) {
		r := bytes.NewReader(raw)
		kind, whole, err := getFrame(r)
		if err != nil {
			if CodeOf(err) == "" {
				t.Fatal(err)
			}
			return
		}
		if kind != raw[4] || !bytes.Equal(whole, raw[:len(whole)]) {
			t.Fatal("a frame that is not what was read")
		}
		var s segment
		if read(whole[5:], &s) == nil {
			if out, err := s.unpack(); err == nil && len(out.Entries) > 0 {
				back := pack(out)
				if again, err := back.unpack(); err != nil || !bytes.Equal(again.Entries[0].Body, out.Entries[0].Body) {
					t.Fatal("packed and unpacked it is another")
				}
			}
		}
	})
}

func FuzzStanding(f *testing.F) {
	f.Add(content(f, 1).Standings[0].Raw)
	f.Fuzz(func(t *testing.T, raw []byte) {
		var s Standing
		if read(raw, &s) != nil {
			return
		}
		again, err := canonical.Marshal(s)
		if err != nil || !bytes.Equal(again, raw) {
			t.Fatal("read, and written otherwise")
		}
	})
}

func TestSeedsAreThere(t *testing.T) { // a fuzz target without a good seed looks at nothing
	if _, err := taken(written(t, sender(), content(t, 2)), ours); err != nil {
		t.Error(err)
	}
	if _, err := OpenStanding(content(t, 1).Standings[0]); err != nil {
		t.Error(err)
	}
	if _, _, err := getFrame(io.LimitReader(bytes.NewReader(nil), 0)); CodeOf(err) != Malformed {
		t.Error(err)
	}
}
