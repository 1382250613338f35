package store

import (
	"database/sql"
	"errors"
	"maps"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/trust"
)

// Received counts what became of entries that came from elsewhere.
type Received struct {
	Taken   []entry.Verified // new here
	Had     int              // were here already
	Waiting int              // wait for those before them
}

// Receive takes entries of other devices in: those that follow on what is here are committed, all or none, with full sync; the others wait. Taking the
// same again changes nothing. grants are trust entries that come with them in other pieces.
func (s *Store) Receive(vs []entry.Verified, grants ...entry.Verified) (r Received, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.changes++
	if err := s.ready(); err != nil {
		return r, err
	}
	var wait []entry.Verified
	batch := map[entry.ID]place{}
	family := s.roster
	if grants = append(grants, trustAmong(vs)...); len(grants) > 0 {
		family = family.With(grants)
	}
	for _, v := range vs {
		if !family.Family(v.Body().District) {
			return r, ErrOtherDistrict
		}
		here, err := s.has(v.ID())
		if err != nil {
			return r, err
		}
		if _, doubled := batch[v.ID()]; here || doubled {
			r.Had++
			continue
		}
		if follows, err := s.follows(v, batch); err != nil {
			return r, err
		} else if !follows {
			wait = append(wait, v)
			continue
		}
		batch[v.ID()] = place{v.Body().Stream, v.Body().Seq}
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
	if err := s.rememberWaiting(); err != nil {
		return r, err
	}
	return r, s.follow()
}

// trustAmong are those that the roster is folded from.
func trustAmong(vs []entry.Verified) (out []entry.Verified) {
	for _, v := range vs {
		if trust.IsGrant(v) {
			out = append(out, v)
		}
	}
	return out
}

// place is where an entry stands in its stream.
type place struct {
	stream entry.Stream
	seq    uint64
}

// follows says whether the entry that one names as the one before it is here, or among those taken with it, and is the one before it: of the same stream, and
// one number lower. What names another waits for ever, and is seen to.
func (s *Store) follows(v entry.Verified, with map[entry.ID]place) (bool, error) {
	b := v.Body()
	if b.Seq == 1 {
		return true, nil
	}
	want := place{b.Stream, b.Seq - 1}
	if p, ok := with[b.Previous]; ok {
		return p == want, nil
	}
	var n int
	err := s.reg.QueryRow("SELECT count(*) FROM entry WHERE id = ? AND stream = ? AND seq = ?", b.Previous[:], b.Stream[:], int64(want.seq)).Scan(&n)
	return n > 0, err
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
		s.learnCounter(v.Body().Lamport)
	}
	return nil
}

// follow brings the read tables up to what was received, forks and the waiting room included.
func (s *Store) follow() error {
	before := s.roster
	if err := s.findForks(); err != nil {
		return err
	}
	if err := s.refoldStreams(before.Changed(s.roster)); err != nil {
		return err
	}
	if s.viewErr = s.followUp(); s.viewErr != nil && !Full(s.viewErr) {
		s.viewErr = errors.Join(s.forgetViews(), s.followUp())
	}
	return s.viewErr
}

// refoldStreams folds again what streams speak of whose word counts otherwise now.
func (s *Store) refoldStreams(streams []entry.Stream) error {
	if len(streams) == 0 {
		return nil
	}
	upTo, err := s.markInt("pos")
	if err != nil {
		return err
	}
	touched := map[model.Ref]bool{}
	if err := s.touchedBy(streams, upTo, touched); err != nil {
		return err
	}
	tx, err := begin(s.views)
	if err != nil {
		return err
	}
	defer tx.shut()
	src := &reader{s: s, q: tx}
	if err := errors.Join(s.refold(tx, src, touched), src.err); err != nil {
		return err
	}
	return tx.Commit()
}

// findForks looks for streams with two entries of one number: a copied device that went on beside its original. Only what is new since it looked last can show another.
func (s *Store) findForks() error {
	forks := maps.Clone(s.here)
	var last int64
	if err := s.reg.QueryRow("SELECT coalesce(max(pos), 0) FROM entry").Scan(&last); err != nil {
		return err
	}
	ask := `SELECT e.stream, min(e.seq) FROM entry e WHERE e.pos > ? AND EXISTS
		(SELECT 1 FROM entry o WHERE o.stream = e.stream AND o.seq = e.seq AND o.pos <> e.pos) GROUP BY e.stream`
	if s.looked == 0 { // all of it: in one walk along the index
		ask = "SELECT stream, min(seq) FROM (SELECT stream, seq FROM entry WHERE +pos > ? GROUP BY stream, seq HAVING count(*) > 1) GROUP BY stream"
	}
	rows, err := s.reg.Query(ask, s.looked)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var b []byte
		var seq int64
		if err := rows.Scan(&b, &seq); err != nil {
			return err
		}
		if f := forks[entry.Stream(b)]; f == 0 || uint64(seq) < f {
			forks[entry.Stream(b)] = uint64(seq)
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	s.here, s.looked = maps.Clone(forks), last
	if err := s.forksWaiting(forks); err != nil {
		return err
	}
	changed := len(forks) != len(s.forks)
	for k, v := range forks {
		changed = changed || s.forks[k] != v
	}
	s.forks = forks
	if changed || s.removalWaits {
		return s.rebuildRoster()
	}
	return nil
}

// forksWaiting looks for entries that wait and have the number of another: their stream is forked, though nobody knows yet where.
func (s *Store) forksWaiting(forks map[entry.Stream]uint64) error {
	rows, err := s.waitingRows()
	s.removalWaits = false
	seen := map[place]entry.ID{}
	for _, w := range rows {
		b := w.Body()
		s.removalWaits = s.removalWaits || b.Kind == model.KindDeviceRemoved
		at := place{b.Stream, b.Seq}
		other, doubled := seen[at]
		seen[at] = w.ID()
		if !doubled {
			var raw []byte
			id := w.ID()
			switch err := s.reg.QueryRow("SELECT id FROM entry WHERE stream = ? AND seq = ? AND id <> ?", b.Stream[:], int64(b.Seq), id[:]).Scan(&raw); {
			case errors.Is(err, sql.ErrNoRows):
				continue
			case err != nil:
				return err
			}
		} else if other == w.ID() {
			continue
		}
		if f := forks[b.Stream]; f == 0 || b.Seq < f {
			forks[b.Stream] = b.Seq
		}
	}
	return err
}

// Forked says from which number on a stream has two branches; 0: it has one.
func (s *Store) Forked(stream entry.Stream) uint64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.forks[stream]
}
