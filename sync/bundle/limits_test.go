package bundle

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"runtime"
	"testing"
	"time"

	"filippo.io/age"
	"github.com/klauspost/compress/zstd"

	"mvuke/model/entry"
)

// forged is a file whose frames and header are whatever the test says.
func forged(t *testing.T, change func(h *Header), frames []byte, window int) []byte {
	t.Helper()
	var sealed bytes.Buffer
	lock, err := age.Encrypt(&sealed, ours.Recipient())
	if err != nil {
		t.Fatal(err)
	}
	z, err := zstd.NewWriter(lock, zstd.WithWindowSize(window))
	if err != nil {
		t.Fatal(err)
	}
	for len(frames) > 0 { // in pieces, so that the window is declared and not the content's size
		n := min(len(frames), 1<<20)
		if _, err := z.Write(frames[:n]); err != nil {
			t.Fatal(err)
		}
		frames = frames[n:]
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if err := lock.Close(); err != nil {
		t.Fatal(err)
	}
	h := Header{ID: [16]byte{1}, Part: 1, Of: 1, Hints: [][]byte{hint([16]byte{1}, ours.Recipient().String())}, Sealed: uint64(sealed.Len()), Must: []uint64{}}
	change(&h)
	return enveloped(t, h, sealed.Bytes())
}

func enveloped(t *testing.T, h Header, sealed []byte) []byte {
	t.Helper()
	raw, err := canonical.Marshal(h)
	if err != nil {
		t.Fatal(err)
	}
	b := append([]byte{}, magic...)
	b = binary.BigEndian.AppendUint16(b, Version)
	b = binary.BigEndian.AppendUint16(b, uint16(len(raw)))
	b = append(append(b, raw...), sealed...)
	b = binary.BigEndian.AppendUint64(b, uint64(len(b)+trailer))
	sum := sha256.Sum256(b)
	return append(append(b, sum[:]...), endMagic...)
}

// Each limit at its bound and one beyond.
func TestLimitsOfTheHeader(t *testing.T) {
	hints := func(n int) (out [][]byte) {
		for range n {
			out = append(out, make([]byte, hintLen))
		}
		return out
	}
	for name, c := range map[string]struct {
		change func(h *Header)
		want   Code
	}{
		"parts":             {func(h *Header) { h.Of = MostParts }, ""},
		"parts and one":     {func(h *Header) { h.Of = MostParts + 1 }, Malformed},
		"part 0":            {func(h *Header) { h.Part = 0 }, Malformed},
		"part beyond":       {func(h *Header) { h.Part = 2 }, Malformed},
		"recipients":        {func(h *Header) { h.Hints = hints(MostRecipients) }, ""},
		"recipients + 1":    {func(h *Header) { h.Hints = hints(MostRecipients + 1) }, Malformed},
		"no recipient":      {func(h *Header) { h.Hints = hints(0) }, Malformed},
		"must":              {func(h *Header) { h.Must = []uint64{1} }, Newer},
		"plain":             {func(h *Header) { h.Plain = PlainRatio*h.Sealed + PlainSlack }, ""},
		"plain and one":     {func(h *Header) { h.Plain = PlainRatio*h.Sealed + PlainSlack + 1 }, TooLarge},
		"sealed said short": {func(h *Header) { h.Sealed-- }, Malformed},
	} {
		if _, err := LookBytes(forged(t, c.change, nil, Window)); CodeOf(err) != c.want {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := Look(bytes.NewReader(nil), MostRead+1); CodeOf(err) != TooLarge {
		t.Error(err)
	}
	if plainLimit(1<<40, 1<<40) != MostPlain || plainLimit(5, 1<<40) != 5 {
		t.Error("the least of three")
	}
}

// Frames: their size, their order, their number, and what is declared of them.
func TestLimitsOfTheFrames(t *testing.T) {
	signed, err := sign(domainManifest, Manifest{Format: Format, District: district, ID: [16]byte{1}, Part: 1, Of: 1, Sender: entry.StreamOf(key(2).Public().(ed25519.PublicKey)), Hash: sha256.Sum256(nil), Hints: hintsHash([][]byte{hint([16]byte{1}, ours.Recipient().String())})}, key(2))
	if err != nil {
		t.Fatal(err)
	}
	frames := func(put ...func(b *bytes.Buffer)) []byte {
		var b bytes.Buffer
		for _, p := range put {
			p(&b)
		}
		return b.Bytes()
	}
	manifest := func(b *bytes.Buffer) { putFrame(b, frameManifest, signed) }
	ends := func(n uint64) func(b *bytes.Buffer) {
		return func(b *bytes.Buffer) { putFrame(b, frameEnd, end{n}) }
	}
	raw := func(x ...byte) func(b *bytes.Buffer) { return func(b *bytes.Buffer) { b.Write(x) } }
	for name, c := range map[string]struct {
		frames []byte
		more   int // declared more (or fewer) than there is
		want   Code
	}{
		"whole":            {frames(manifest, ends(1)), 0, ""},
		"no end":           {frames(manifest), 0, Malformed},
		"wrong count":      {frames(manifest, ends(2)), 0, Malformed},
		"no manifest":      {frames(ends(0)), 0, Malformed},
		"two manifests":    {frames(manifest, manifest, ends(2)), 0, Malformed},
		"unknown frame":    {frames(manifest, raw(0, 0, 0, 1, 77, 0), ends(2)), 0, Newer},
		"frame too large":  {frames(manifest, raw(0, 0x10, 0, 1, 3)), 0, TooLarge},
		"not one spelling": {frames(manifest, raw(0, 0, 0, 4, 9, 0xa1, 1, 0x18, 1)), 0, Malformed},
		"declared more":    {frames(manifest, ends(1)), 1, Malformed},
		"declared fewer":   {frames(manifest, ends(1)), -1, Malformed},
		"something behind": {frames(manifest, ends(1), raw(0)), -1, TooLarge},
	} {
		b := forged(t, func(h *Header) { h.Plain = uint64(len(c.frames) + c.more) }, c.frames, Window)
		if _, err := taken(b, ours); CodeOf(err) != c.want {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	var big bytes.Buffer
	if err := putFrame(&big, frameSegment, bytes.Repeat([]byte{1}, MostFrame-5)); err != nil {
		t.Error(err)
	}
	if err := putFrame(&big, frameSegment, bytes.Repeat([]byte{1}, MostFrame)); CodeOf(err) != TooLarge {
		t.Error(err)
	}
}

// A small file that opens to gigabytes, or asks for a window of half a gigabyte, is refused soon and in little memory.
func TestBombsAreRefused(t *testing.T) {
	zeros := make([]byte, 512<<20)
	for name, c := range map[string]struct {
		b    []byte
		want Code
	}{
		"declared":     {forged(t, func(h *Header) { h.Plain = uint64(len(zeros)) }, zeros, Window), TooLarge},
		"not declared": {forged(t, func(h *Header) { h.Plain = 1000 }, append([]byte{0, 0, 1, 0, 3}, zeros...), Window), Malformed},
		"window":       {forged(t, func(h *Header) { h.Plain = 1000 }, zeros, 512<<20), Damaged},
	} {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		began := time.Now()
		_, err := taken(c.b, ours)
		took := time.Since(began)
		runtime.ReadMemStats(&after)
		if used := after.TotalAlloc - before.TotalAlloc; CodeOf(err) != c.want || used > 128<<20 {
			t.Errorf("%s: %v, want %s; %d MB in %v", name, err, c.want, used>>20, took)
		}
	}
}

// A content larger than a file is parted, each part is of use alone, and each is within the limit.
func TestPartsOfALargeContent(t *testing.T) {
	if testing.Short() {
		t.Skip("writes 40 MB")
	}
	var c Content
	for _, s := range Segments(1, stream(t, key(2), 2000)) {
		for range 90 {
			c.Segments = append(c.Segments, s)
		}
	}
	parts := Split(c)
	n := 0
	for i, p := range parts {
		var b bytes.Buffer
		if err := Write(&b, sender(), i+1, len(parts), p); err != nil {
			t.Fatal(err)
		}
		if b.Len() > MostWritten {
			t.Errorf("part %d has %d bytes", i+1, b.Len())
		}
		got, err := taken(b.Bytes(), ours)
		if err != nil {
			t.Fatal(err)
		}
		n += len(got)
	}
	if len(parts) < 2 || n != 180_000 {
		t.Errorf("%d parts, %d entries", len(parts), n)
	}
}
