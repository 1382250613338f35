package store

import (
	"mvuke/model/entry"
)

// Head is the last entry of a stream, or of one branch of it.
type Head struct {
	Stream entry.Stream
	Seq    uint64
	ID     entry.ID
}

// headsSQL steps along the index from stream to stream: a thousand steps, where grouping would go through ten million rows. CROSS JOIN keeps that order.
const headsSQL = `WITH RECURSIVE known (stream) AS (
	SELECT min(stream) FROM entry
	UNION ALL
	SELECT (SELECT min(e.stream) FROM entry e WHERE e.stream > known.stream) FROM known WHERE known.stream IS NOT NULL)
SELECT e.stream, e.seq, e.id FROM known k CROSS JOIN entry e ON e.stream = k.stream AND e.seq = (SELECT max(m.seq) FROM entry m WHERE m.stream = k.stream)
WHERE k.stream IS NOT NULL ORDER BY e.stream, e.id`

// Heads lists the heads of all streams; of a forked one each branch's.
func (s *Store) Heads() (out []Head, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	rows, err := s.reg.Query(headsSQL)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var stream, id []byte
		var seq int64
		if err := rows.Scan(&stream, &seq, &id); err != nil {
			return nil, err
		}
		if s.forks[entry.Stream(stream)] == 0 {
			out = append(out, Head{entry.Stream(stream), uint64(seq), entry.ID(id)})
		}
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	for stream := range s.forks {
		tips, err := s.tips(stream)
		if err != nil {
			return nil, err
		}
		out = append(out, tips...)
	}
	return out, nil
}

// tips are the ends of the branches of a forked stream: entries that none follows on.
func (s *Store) tips(stream entry.Stream) (out []Head, err error) {
	vs, err := s.query(`SELECT pos, body, key, sig FROM entry WHERE stream = ?1 AND seq >= min(?2, (SELECT coalesce(max(seq), 0) FROM entry WHERE stream = ?1)) ORDER BY seq, id`,
		stream[:], int64(s.forks[stream])-1) // the branches may both wait, beyond the end of what is here
	if err != nil {
		return nil, err
	}
	followed := map[entry.ID]bool{}
	for _, v := range vs {
		followed[v.Body().Previous] = true
	}
	for _, v := range vs {
		if !followed[v.ID()] {
			out = append(out, Head{stream, v.Body().Seq, v.ID()})
		}
	}
	return out, nil
}

// Has says whether an entry is here.
func (s *Store) Has(id entry.ID) (bool, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return false, err
	}
	return s.has(id)
}

// After gives a stream's entries above a number, in order, as they were signed; of a forked stream both branches, each entry after the one that
// it follows on. They are read in pieces; whole says that a piece is as it was verified, byte by byte.
func (s *Store) After(stream entry.Stream, seq uint64, give func(piece []entry.Sealed, whole bool) error) error {
	for {
		piece, whole, last, err := s.piece(stream, seq)
		if err != nil || len(piece) == 0 {
			return err
		}
		if err := give(piece, whole); err != nil {
			return err
		}
		seq = last
	}
}

const pieceLen = 2000

// piece reads entries above a number; it never ends between two of one number.
func (s *Store) piece(stream entry.Stream, seq uint64) (out []entry.Sealed, whole bool, last uint64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, false, 0, err
	}
	rows, err := s.reg.Query("SELECT pos, seq, body, key, sig FROM entry WHERE stream = ? AND seq > ? AND seq <= ? ORDER BY seq, id", stream[:], int64(seq), int64(seq+pieceLen))
	if err != nil {
		return nil, false, 0, err
	}
	defer rows.Close()
	var places []int64
	for rows.Next() {
		var pos, n int64
		var x entry.Sealed
		if err := rows.Scan(&pos, &n, &x.Body, &x.Key, &x.Sig); err != nil {
			return nil, false, 0, err
		}
		out, places, last = append(out, x), append(places, pos), uint64(n)
	}
	return out, rows.Err() == nil && s.whole(places, out), last, rows.Err()
}

// Standing is the latest word of a device on what it holds, as it signed it.
type Standing struct {
	Holder        entry.Stream
	Counter       uint64
	Raw, Key, Sig []byte
}

// KeepStanding keeps a standing if it is newer than the one that is here; whoever calls has verified it.
func (s *Store) KeepStanding(x Standing) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return err
	}
	_, err := s.waiting.Exec(`INSERT INTO standing (holder, counter, raw, key, sig) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (holder) DO UPDATE SET counter = excluded.counter, raw = excluded.raw, key = excluded.key, sig = excluded.sig WHERE excluded.counter > standing.counter`,
		x.Holder[:],
		int64(x.Counter),
		x.Raw,
		x.Key,
		x.Sig)
	return err
}

// Standings lists those that are known.
func (s *Store) Standings() (out []Standing, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	rows, err := s.waiting.Query("SELECT holder, counter, raw, key, sig FROM standing ORDER BY holder")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var x Standing
		var holder []byte
		var counter int64
		if err := rows.Scan(&holder, &counter, &x.Raw, &x.Key, &x.Sig); err != nil {
			return nil, err
		}
		x.Holder, x.Counter = entry.Stream(holder), uint64(counter)
		out = append(out, x)
	}
	return out, rows.Err()
}
