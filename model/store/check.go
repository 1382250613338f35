package store

import (
	"errors"
	"fmt"

	"mvuke/model/entry"
)

// Report is what a check found.
type Report struct {
	Entries int64
	Streams int
	Faults  []string // empty: whole
	Digest  [32]byte
}

// OK says that nothing was found.
func (r Report) OK() bool { return len(r.Faults) == 0 }

// StartCheck is the short check of every start: no entry is missing from the middle of a stream, and the
// last entries are verified. The file's structure is asked later, in the background.
func (s *Store) StartCheck() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return err
	}
	holes, err := s.holes()
	if err != nil {
		return err
	}
	if holes > 0 {
		return &Damage{fmt.Errorf("%d streams have entries missing", holes)}
	}
	var misplaced bool
	if err := s.reg.QueryRow("SELECT EXISTS (SELECT 1 FROM entry WHERE pos < 1)").Scan(&misplaced); err != nil {
		return err
	}
	if misplaced {
		return &Damage{errors.New("an entry has a place that is never given")}
	}
	_, err = s.query("SELECT pos, body, key, sig FROM entry WHERE pos > (SELECT coalesce(max(pos), 0) FROM entry) - 200 ORDER BY pos")
	return err
}

// holes counts the streams from whose middle an entry is missing. Where no number is there twice, counting finds them; a copied device's are looked at one number at a time.
func (s *Store) holes() (n int, err error) {
	rows, err := s.reg.Query("SELECT stream, count(*), max(seq) FROM entry GROUP BY stream")
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	var forked [][]byte
	for rows.Next() {
		var stream []byte
		var count, last int64
		if err := rows.Scan(&stream, &count, &last); err != nil {
			return n, err
		}
		if s.here[entry.Stream(stream)] > 0 {
			forked = append(forked, stream)
		} else if count != last {
			n++
		}
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return n, err
	}
	for _, stream := range forked {
		var whole bool
		if err := s.reg.QueryRow("SELECT count(DISTINCT seq) = max(seq) FROM entry WHERE stream = ?", stream).Scan(&whole); err != nil {
			return n, err
		}
		if !whole {
			n++
		}
	}
	return n, nil
}

// QuickCheck asks SQLite whether the file's structure is whole.
func (s *Store) QuickCheck() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.quickCheck()
}

func (s *Store) quickCheck() error {
	var word string
	if err := s.reg.QueryRow("PRAGMA quick_check").Scan(&word); err != nil {
		return err
	}
	if word != "ok" {
		return &Damage{fmt.Errorf("%s", word)}
	}
	return nil
}

// Check reads everything: the file's structure, every signature, every stream's chain, and
// that the read tables made anew come to the same digest.
func (s *Store) Check(progress func(done, all int64)) (Report, error) {
	var r Report
	before, err := s.Digest()
	if err != nil {
		return r, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	var word string
	if err := s.reg.QueryRow("PRAGMA integrity_check").Scan(&word); err != nil {
		return r, err
	}
	if word != "ok" {
		r.Faults = append(r.Faults, word)
	}
	if err := s.chains(&r, progress); err != nil {
		return r, err
	}
	if r.OK() {
		if err := s.forgetViews(); err != nil {
			return r, err
		}
		if s.viewErr = s.followUp(); s.viewErr != nil {
			return r, s.viewErr
		}
		after, err := s.mark("digest")
		if err != nil {
			return r, err
		}
		copy(r.Digest[:], after)
		if r.Digest != before {
			r.Faults = append(r.Faults, "the read tables were not what the entries say; they are made anew")
		}
	}
	return r, nil
}

type link struct {
	seq  uint64
	head entry.ID
}

// branches says whether an entry follows on one that is here, though not on the one read last: its stream is forked.
func (s *Store) branches(v placed) (bool, error) {
	b := v.Body()
	var n int
	err := s.reg.QueryRow("SELECT count(*) FROM entry WHERE id = ? AND stream = ? AND seq = ?", b.Previous[:], b.Stream[:], int64(b.Seq)-1).Scan(&n)
	if err != nil || (n == 0 && b.Seq > 1) {
		return false, err
	}
	var same int
	err = s.reg.QueryRow("SELECT count(*) FROM entry WHERE stream = ? AND seq = ?", b.Stream[:], int64(b.Seq)).Scan(&same)
	return err == nil && (same > 1 || s.forkedBelow(b)), err
}

// forkedBelow says whether a stream has two entries of one number at or below this one.
func (s *Store) forkedBelow(b *entry.Body) bool {
	var n int
	err := s.reg.QueryRow("SELECT count(*) FROM (SELECT 1 FROM entry WHERE stream = ? AND seq <= ? GROUP BY seq HAVING count(*) > 1)", b.Stream[:], int64(b.Seq)).Scan(&n)
	return err == nil && n > 0
}

// chains verifies every entry and that each stream's entries follow on one another.
func (s *Store) chains(r *Report, progress func(done, all int64)) error {
	var last int64
	if err := s.reg.QueryRow("SELECT coalesce(max(pos), 0) FROM entry").Scan(&last); err != nil {
		return err
	}
	heads := map[entry.Stream]link{}
	for from := int64(0); from < last; from += batch {
		if progress != nil {
			progress(from, last)
		}
		vs, err := s.between(from, min(from+batch, last), true)
		if err != nil {
			r.Faults = append(r.Faults, err.Error())
			return nil
		}
		for _, v := range vs {
			b := v.Body()
			h := heads[b.Stream]
			if b.Seq != h.seq+1 || b.Previous != h.head {
				if ok, err := s.branches(v); err != nil {
					return err
				} else if ok {
					heads[b.Stream] = link{b.Seq, v.ID()}
					r.Entries++
					continue
				}
				r.Faults = append(r.Faults, fmt.Sprintf("entry %v: number %d does not follow %d in its stream", v.ID(), b.Seq, h.seq))
			}
			heads[b.Stream] = link{b.Seq, v.ID()}
			r.Entries++
		}
	}
	r.Streams = len(heads)
	var rows int64
	if err := s.reg.QueryRow("SELECT count(*) FROM entry").Scan(&rows); err != nil {
		return err
	}
	if rows != r.Entries {
		r.Faults = append(r.Faults, fmt.Sprintf("%d entries in the file, and %d at their places", rows, r.Entries))
	}
	return nil
}
