package trust

import (
	"crypto/ed25519"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// A root may name the key that comes after it. The district keeps its name, which is the hash of its first root; whoever holds the new key
// speaks for it, and nothing is signed anew. Of what the old key says later only stops count.

// chair is a key that speaks for a root, or once did.
type chair struct {
	speaks bool     // it is the first root, or was named by one that spoke, with no rival
	left   bool     // it named who comes after it
	last   entry.ID // the first entry by which it did: of what it says only the line that ends here is for the good
	named  entry.ID // the entry that named it; zero: the first root
	by     who      // whose that is
}

// succession is a key's word on who comes after it.
type succession struct {
	v    entry.Verified
	heir who
}

// chairs seats every key that was ever named for a root. One that is named without its own signature is nobody: it would take somebody else's key in.
// Where a key named two, and not one after the other in one line, a copy of it is abroad: neither speaks.
func (b builder) chairs() {
	named := map[who][]succession{}
	b.each(model.KindSucceeded, func(v entry.Verified) {
		var s model.Succeeded
		if v.Body().Decode(&s) != nil || len(s.Key) != ed25519.PublicKeySize || len(s.Proof) != ed25519.SignatureSize {
			return
		}
		d := v.Body().District
		if string(s.Key) != string(v.Sealed().Key) && ed25519.Verify(s.Key, model.SuccessionText(d[:], v.Sealed().Key), s.Proof) {
			named[whose(v)] = append(named[whose(v)], succession{v, who{entry.StreamOf(s.Key), d}})
		}
		if w := whose(v); entry.DistrictOf(v.Sealed().Key) == d {
			b.Roster.chairs[w] = chair{speaks: true}
		}
	})
	todo := []who{}
	for w := range b.Roster.chairs {
		todo = append(todo, w)
	}
	for len(todo) > 0 {
		w := todo[0]
		todo = todo[1:]
		c := b.Roster.chairs[w]
		if c.left || len(named[w]) == 0 {
			continue
		}
		first, rivals := b.firstOf(named[w])
		c.left, c.last = true, first.v.ID()
		b.Roster.chairs[w] = c
		b.lineOf(w, first.v)
		for _, s := range named[w] {
			if have, seated := b.Roster.chairs[s.heir]; !seated || !have.left {
				speaks := c.speaks && !rivals && s.heir == first.heir
				if !seated || (speaks && !have.speaks) {
					have.named, have.by = s.v.ID(), w
				}
				have.speaks = have.speaks || speaks
				b.Roster.chairs[s.heir] = have
				todo = append(todo, s.heir)
			}
		}
	}
}

// lineOf keeps the entries of a key that lead to the one by which it left. Whoever has the old key can write beside them, with any number: that is another line.
func (b builder) lineOf(w who, last entry.Verified) {
	byID := map[entry.ID]entry.Verified{}
	for _, v := range b.from {
		byID[v.ID()] = v
	}
	line := map[entry.ID]bool{}
	for v, ok := last, true; ok && !line[v.ID()]; v, ok = byID[v.Body().Previous] {
		line[v.ID()] = true
	}
	b.lines[w] = line
}

// Successions that an entry rests on, where one who came after the first root signed it: a release that rests on it names them, so that none that comes later can make it count.
func (r Roster) restsOn(v entry.Verified) (out []entry.ID) {
	for w := whose(v); ; {
		c, seated := r.chairs[w]
		if !seated || c.named == (entry.ID{}) || slices.Contains(out, c.named) {
			return out
		}
		out = append(out, c.named)
		w = c.by
	}
}

// firstOf is the first word of a key on who comes after it; rivals says that another was not said after it, in one line.
func (b builder) firstOf(list []succession) (first succession, rivals bool) {
	byID := map[entry.ID]entry.Verified{}
	for _, v := range b.from {
		byID[v.ID()] = v
	}
	first = slices.MinFunc(list, func(x, y succession) int { return entry.Less(x.v, y.v) })
	for _, s := range list {
		if s.v.Body().Seq < first.v.Body().Seq {
			first = s
		}
	}
	for _, s := range list {
		at, ok := s.v, true
		for ok && at.Body().Seq > first.v.Body().Seq {
			at, ok = byID[at.Body().Previous]
		}
		rivals = rivals || !ok || at.ID() != first.v.ID()
	}
	return first, rivals
}

// isRoot says that an entry is by the root that it names, or by a key that was ever named after it: what it stops stays stopped.
func (r Roster) isRoot(v entry.Verified) bool {
	_, seated := r.chairs[whose(v)]
	return r.Family(v.Body().District) && (seated || entry.DistrictOf(v.Sealed().Key) == v.Body().District)
}

// asRoot says that an entry speaks for the root that it names, for the good too.
func (r Roster) asRoot(v entry.Verified) bool {
	c, seated := r.chairs[whose(v)]
	return r.isRoot(v) && (!seated || (c.speaks && !(c.left && !r.lines[whose(v)][v.ID()])))
}

// RootKey says whether a key speaks for a root of the family today.
func (r Roster) RootKey(root entry.District, key ed25519.PublicKey) bool {
	c, seated := r.chairs[who{entry.StreamOf(key), root}]
	return r.Family(root) && ((seated && c.speaks && !c.left) || (!seated && entry.DistrictOf(key) == root))
}

// Successions are the words on who comes after whom in a root.
func (r Roster) Successions(root entry.District) (out []entry.Verified) {
	for _, v := range r.from {
		if v.Body().Kind == model.KindSucceeded && v.Body().District == root {
			out = append(out, v)
		}
	}
	return out
}
