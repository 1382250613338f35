package register

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// State is what the register knows of one noun.
type State struct {
	Ref     model.Ref
	Entries []entry.Verified // counted, in the order of showing
	Claims  []entry.Verified // by devices that were never certified: shown, not counted
	Holds   []Hold
	Parents []model.Ref // what it comes from
}

// Hold stops a noun until a clear names it.
type Hold struct {
	ID      entry.ID
	Cause   entry.Verified
	Code    string
	Final   bool             // nothing clears it: rejected, aborted
	Cleared []entry.Verified // the clears that count
}

// Open says that the hold still stops its noun.
func (h Hold) Open() bool { return h.Final || len(h.Cleared) == 0 }

// Rules is raised whenever these rules read the same entries otherwise: read tables that were made by others are made anew.
const Rules = 3

// stopsPacks says whether a hold on something that a pack comes from stops the pack too. A safety valve that does not lift stops
// the pot, not what came out of it: too much pressure is not too little heat.
func (h Hold) stopsPacks(on model.Ref) bool {
	return !(on.Noun == model.NounSterilizer && h.Code == HoldValve)
}

// Of folds one noun, whole.
func Of(src Source, ref model.Ref) State {
	roster := src.Roster()
	st := State{Ref: ref}
	tell := tellerOf(src, ref)
	for _, v := range src.Targeting(ref) {
		if roster.Known(v) && ((v.Body().Kind.Class() != model.Descriptive && v.Body().Kind != model.KindPerson) || (roster.Allows(v) && tell.speaks(v))) {
			st.Entries = append(st.Entries, v)
		} else if v.Body().District == roster.District {
			st.Claims = append(st.Claims, v)
		}
	}
	slices.SortFunc(st.Claims, entry.Less)
	st.order()

	for _, v := range st.Entries {
		st.Parents = append(st.Parents, parents(v, ref)...)
		for _, h := range holdsBy(tell, v, ref) {
			st.Holds = append(st.Holds, Hold{ID: entry.HoldID(v.ID(), ref), Cause: v, Code: h.code, Final: h.final})
		}
	}
	for _, more := range [][]Hold{siblingStrips(src, st), badTimes(src, st), pastDoubts(src, st), lateRecalls(src, st)} {
		slices.SortStableFunc(more, func(a, b Hold) int { return bytes.Compare(a.ID[:], b.ID[:]) }) // whatever came first here
		st.Holds = append(st.Holds, more...)
	}
	for _, v := range st.Entries {
		if !clears(src, v) {
			continue
		}
		for i := range st.Holds {
			if slices.Contains(v.Body().Clears, st.Holds[i].ID) && lifts(src, v, st.Holds[i], ref) && (!st.Holds[i].doubt() || lookedBack(src, v, st)) {
				st.Holds[i].Cleared = append(st.Holds[i].Cleared, v)
			}
		}
	}
	return st
}

// order puts the entries in the order of showing, each once.
func (st *State) order() {
	slices.SortFunc(st.Entries, entry.Less)
	st.Entries = slices.CompactFunc(st.Entries, func(a, b entry.Verified) bool { return a.ID() == b.ID() })
}

// siblingStrips are holds on a load by a strip that failed in one of its packs, where the entry names the pack only: it was written where
// nobody knew the load.
func siblingStrips(src Source, st State) (out []Hold) {
	if st.Ref.Noun != model.NounCycle {
		return nil
	}
	for _, begun := range st.Entries {
		if begun.Body().Kind != model.KindCycleBegun {
			continue
		}
		for _, pack := range begun.Body().Refs() {
			if pack.Noun != model.NounPack {
				continue
			}
			for _, v := range src.Targeting(pack) {
				b := v.Body()
				if b.Kind == model.KindPackOpened && src.Roster().Known(v) && !slices.Contains(b.Refs(), st.Ref) && len(opened(b, st.Ref)) > 0 {
					out = append(out, Hold{ID: entry.HoldID(v.ID(), st.Ref), Cause: v, Code: HoldStrip})
				}
			}
		}
	}
	return out
}

// Counts says whether an entry belongs to the fold of one of its targets. That a cycle was begun, a spore test laid in or nothing grew in it
// tells nothing of the pot: one with twenty thousand cycles folds as fast as a new one. What cannot be read may have been bad news, and counts.
func Counts(v entry.Verified, ref model.Ref) bool {
	if ref.Noun != model.NounSterilizer {
		return true
	}
	switch b := v.Body(); b.Kind {
	case model.KindCycleBegun:
		var c model.CycleBegun
		return b.Decode(&c) != nil
	case model.KindSporePlaced:
		var p model.SporePlaced
		return b.Decode(&p) != nil
	case model.KindSporeRead:
		var r model.SporeRead
		return b.Decode(&r) != nil || r.Grew
	}
	return true
}

// parents are the nouns that ref comes from by what v says.
func parents(v entry.Verified, ref model.Ref) []model.Ref {
	if v.Body().Kind != model.KindCycleBegun {
		return nil
	}
	var want model.Noun
	switch ref.Noun {
	case model.NounPack:
		want = model.NounCycle
	case model.NounCycle:
		want = model.NounSterilizer
	default:
		return nil
	}
	var out []model.Ref
	for _, r := range v.Body().Refs() {
		if r.Noun == want {
			out = append(out, r)
		}
	}
	return out
}

// Hash is the row hash of a folded noun; the digest of a register is the sum of all.
func (s State) Hash() [32]byte {
	h := sha256.New()
	h.Write(s.Ref.Bytes())
	for _, v := range s.Entries {
		id := v.ID()
		h.Write(id[:])
	}
	h.Write([]byte{0xff})
	for _, hold := range s.Holds {
		h.Write(hold.ID[:])
		h.Write([]byte(hold.Code))
		var open [1]byte
		if hold.Open() {
			open[0] = 1
		}
		h.Write(open[:])
	}
	var sum [32]byte
	h.Sum(sum[:0])
	return sum
}

// AddDigest adds a row hash to a digest, modulo 2^256, so that order does not matter.
func AddDigest(sum, row [32]byte) (out [32]byte) {
	var carry uint64
	for i := 24; i >= 0; i -= 8 {
		a, b := binary.BigEndian.Uint64(sum[i:]), binary.BigEndian.Uint64(row[i:])
		c := a + b + carry
		if c < a || (carry == 1 && c == a) {
			carry = 1
		} else {
			carry = 0
		}
		binary.BigEndian.PutUint64(out[i:], c)
	}
	return out
}

// SubDigest takes a row hash off a digest.
func SubDigest(sum, row [32]byte) [32]byte {
	var neg, one [32]byte
	for i := range row {
		neg[i] = ^row[i]
	}
	one[31] = 1
	return AddDigest(sum, AddDigest(neg, one))
}
