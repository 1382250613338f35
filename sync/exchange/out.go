package exchange

import (
	"bytes"
	"cmp"
	"slices"

	"mvuke/model/entry"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
)

// File is one part, ready for a stick.
type File struct {
	Name string
	Data []byte
}

// Errand is what is taken out: to whom, and whether everything or only what they lack.
type Errand struct {
	Sender     bundle.Sender
	To         []entry.Stream // devices of the receiving sites; none: nothing is known of the receiver, and everything goes
	Everything bool
	Counter    uint64 // of our own standing: our Lamport counter

	See func(entry.Stream) bool // what the receiver may see, by whole stream; nil: all. Roots and site keys everybody sees
}

// Out makes the files of an errand. What goes is all that is above the last word of each receiving device on what it holds, and our own word on what
// we hold, with the latest words of others that we know: receipts that travel on.
func Out(log Log, e Errand) (files []File, sent int, err error) {
	heads, err := log.Heads()
	if err != nil {
		return nil, 0, err
	}
	known, err := log.Standings()
	if err != nil {
		return nil, 0, err
	}
	theirs, err := lacking(known, e)
	if err != nil {
		return nil, 0, err
	}
	own, err := bundle.SignStanding(bundle.Standing{District: e.Sender.District, Holder: entry.StreamOf(publicKey(e.Sender)), Counter: e.Counter, Wall: e.Sender.Wall, Heads: heads}, e.Sender.Key)
	if err != nil {
		return nil, 0, err
	}
	c := bundle.Content{Standings: append([]bundle.Signed{own}, others(known, own)...)}
	roster, err := log.Roster()
	if err != nil {
		return nil, 0, err
	}
	for _, s := range order(heads, roster) {
		if e.See != nil && !roster.Trusted(s) && !e.See(s) {
			continue
		}
		from, err := above(log, s, heads, theirs)
		if err != nil {
			return nil, 0, err
		}
		lack := from
		if roster.Trusted(s) { // few, and who went back to an older copy does not know what it lacks
			from = 0
		}
		err = log.After(s, from, func(piece []entry.Sealed, whole bool) error {
			if !whole { // a damaged row is not passed on
				if _, err := entry.VerifyAll(piece); err != nil {
					return err
				}
			}
			segments, news, err := runs(piece, lack)
			c.Segments = append(c.Segments, segments...)
			sent += news
			return err
		})
		if err != nil {
			return nil, 0, err
		}
	}
	parts := bundle.Split(c)
	for i, p := range parts {
		var b bytes.Buffer
		if err := bundle.Write(&b, e.Sender, i+1, len(parts), p); err != nil {
			return nil, 0, err
		}
		look, err := bundle.LookBytes(b.Bytes()) // what was made is looked at before it leaves
		if err != nil {
			return nil, 0, err
		}
		files = append(files, File{look.Name(), b.Bytes()})
	}
	return files, sent, nil
}

// runs cuts a piece into segments in which each entry follows on the one before: at a fork a new one begins. news counts those above a number.
func runs(piece []entry.Sealed, above uint64) (out []bundle.Segment, news int, err error) {
	var run []entry.Sealed
	var first uint64
	var last entry.ID
	flush := func() {
		if len(run) > 0 {
			out = append(out, bundle.Segments(first, run)...)
		}
		run = nil
	}
	for _, x := range piece {
		id, b, err := entry.Look(x)
		if err != nil {
			return nil, 0, err
		}
		if b.Seq > above {
			news++
		}
		if len(run) > 0 && b.Previous != last {
			flush()
		}
		if len(run) == 0 {
			first = b.Seq
		}
		run, last = append(run, x), id
	}
	flush()
	return out, news, nil
}

// lacking is the least that the receiving devices hold of each stream, by their own words; nil: nothing is known, everything goes.
func lacking(known []bundle.Signed, e Errand) (map[entry.Stream][]bundle.Head, error) {
	if e.Everything || len(e.To) == 0 {
		return nil, nil
	}
	words := map[entry.Stream]bundle.Standing{}
	for _, s := range known {
		if !slices.ContainsFunc(e.To, func(to entry.Stream) bool { return to == entry.StreamOf(s.Key) }) {
			continue // of somebody else; each is verified when it is read
		}
		x, err := bundle.OpenStanding(s)
		if err != nil {
			return nil, err
		}
		words[x.Holder] = x
	}
	var least map[entry.Stream][]bundle.Head
	for _, to := range e.To {
		x, ok := words[to]
		if !ok {
			return nil, nil // one of them has said nothing: everything
		}
		has := map[entry.Stream][]bundle.Head{}
		for _, h := range x.Heads {
			has[h.Stream] = append(has[h.Stream], h)
		}
		if least == nil {
			least = has
			continue
		}
		for s, heads := range least {
			if lowest(has[s]) < lowest(heads) {
				least[s] = has[s]
			}
		}
	}
	return least, nil
}

func lowest(heads []bundle.Head) uint64 {
	if len(heads) == 0 {
		return 0
	}
	return slices.MinFunc(heads, func(a, b bundle.Head) int { return cmp.Compare(a.Seq, b.Seq) }).Seq
}

// above is the number from which on a stream is sent. A head that we do not know is either ahead of us or of another branch, and a branch of ours that they
// do not name is one that they lack: then the whole stream goes, so that the fork is found.
func above(log Log, s entry.Stream, ours []bundle.Head, theirs map[entry.Stream][]bundle.Head) (uint64, error) {
	from, branches := lowest(theirs[s]), 0
	for _, h := range ours {
		if h.Stream == s {
			branches++
		}
	}
	for _, h := range ours {
		if h.Stream == s && branches > 1 && !slices.Contains(theirs[s], h) {
			return 0, nil
		}
	}
	for _, h := range theirs[s] {
		here, err := log.Has(h.ID)
		if err != nil {
			return 0, err
		}
		if !here {
			return 0, nil
		}
	}
	return from, nil
}

// order puts streams of roots and sites before those of devices: a reader must know who may sign what.
func order(heads []bundle.Head, r trust.Roster) (out []entry.Stream) {
	seen := map[entry.Stream]bool{}
	for _, first := range []bool{true, false} {
		for _, h := range heads {
			_, device := r.Device(h.Stream)
			if device != first && !seen[h.Stream] {
				seen[h.Stream] = true
				out = append(out, h.Stream)
			}
		}
	}
	return out
}

// others are the words of other devices, to be passed on.
func others(known []bundle.Signed, own bundle.Signed) (out []bundle.Signed) {
	for _, s := range known {
		if !bytes.Equal(s.Key, own.Key) {
			out = append(out, s)
		}
	}
	return out
}
