package store

import (
	"errors"

	"mvuke/model/entry"
)

// Received counts what became of entries that came from elsewhere.
type Received struct {
	Taken   []entry.Verified // new here
	Had     int              // were here already
	Waiting int              // wait for those before them
}

// Receive takes entries of other devices in: those that follow on what is here are committed, all or none, with full sync; the others wait. Taking the
// same again changes nothing.
func (s *Store) Receive(vs []entry.Verified) (r Received, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return r, err
	}
	var wait []entry.Verified
	batch := map[entry.ID]bool{}
	for _, v := range vs {
		if v.Body().District != s.district {
			return r, ErrOtherDistrict
		}
		here, err := s.has(v.ID())
		if err != nil {
			return r, err
		}
		if here || batch[v.ID()] {
			r.Had++
			continue
		}
		b := v.Body()
		follows := b.Seq == 1 || batch[b.Previous]
		if !follows {
			if follows, err = s.has(b.Previous); err != nil {
				return r, err
			}
		}
		if !follows {
			wait = append(wait, v)
			continue
		}
		batch[v.ID()] = true
		r.Taken = append(r.Taken, v)
	}
	if err := s.waits(wait); err != nil {
		return r, err
	}
	if err := s.take(r.Taken); err != nil {
		return r, err
	}
	more, err := s.roused()
	if err != nil {
		return r, err
	}
	if len(more) > 0 {
		if err := s.take(more); err != nil {
			return r, err
		}
		r.Taken = append(r.Taken, more...)
	}
	if err := s.left(r.Taken); err != nil {
		return r, err
	}
	r.Waiting = len(wait)
	return r, s.follow()
}

// take commits entries that follow on what is here.
func (s *Store) take(vs []entry.Verified) error {
	if len(vs) == 0 {
		return nil
	}
	if err := s.write(vs); err != nil {
		s.gaveRoom(err)
		return s.again(vs, err)
	}
	for _, v := range vs {
		s.lamport = max(s.lamport, v.Body().Lamport)
	}
	return nil
}

// follow brings the read tables up to what was received, forks and the waiting room included.
func (s *Store) follow() error {
	if err := s.findForks(); err != nil {
		return err
	}
	if s.viewErr = s.followUp(); s.viewErr != nil && !Full(s.viewErr) {
		s.viewErr = errors.Join(s.forgetViews(), s.followUp())
	}
	return s.viewErr
}

// findForks looks for streams with two entries of one number: a copied device that went on beside its original.
func (s *Store) findForks() error {
	rows, err := s.reg.Query("SELECT stream, min(seq) FROM (SELECT stream, seq FROM entry GROUP BY stream, seq HAVING count(*) > 1) GROUP BY stream")
	if err != nil {
		return err
	}
	defer rows.Close()
	forks := map[entry.Stream]uint64{}
	for rows.Next() {
		var b []byte
		var seq int64
		if err := rows.Scan(&b, &seq); err != nil {
			return err
		}
		forks[entry.Stream(b)] = uint64(seq)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	changed := len(forks) != len(s.forks)
	for k, v := range forks {
		changed = changed || s.forks[k] != v
	}
	s.forks = forks
	if changed {
		return s.rebuildRoster()
	}
	return nil
}

// Forked says from which number on a stream has two branches; 0: it has one.
func (s *Store) Forked(stream entry.Stream) uint64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.forks[stream]
}
