package bundle

// Limits of a bundle. Each is checked before memory is taken for what it bounds.
const (
	MostWritten    = 32 << 20  // bytes of a part that we write
	MostRead       = 64 << 20  // bytes of a part that we read
	MostPlain      = 256 << 20 // bytes of frames
	PlainRatio     = 200       // ... and at most so many times the sealed part
	PlainSlack     = 1 << 20   // ... and so much more
	Window         = 8 << 20   // zstd
	MostFrame      = 1 << 20
	MostHeader     = 4 << 10
	MostRecipients = 64
	MostParts      = 9999
	MostHeads      = 20_000
	MostNested     = 8
)

// perPart is how many bytes of frames go into one part that we write: they may not shrink at all.
const perPart = MostWritten - 2<<20

// perSegment is how many bytes of entries go into one segment.
const perSegment = MostFrame / 2

// plainLimit is how many bytes of frames a sealed part of a size may open to.
func plainLimit(declared, sealed uint64) uint64 {
	return min(declared, MostPlain, PlainRatio*sealed+PlainSlack)
}
