package store

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// The waiting room: entries that came before those that they follow on. What is bad news among them counts at once, since a hold must not wait for
// a stick that was lost; nothing good of them counts.

// waitsInFold says whether a waiting entry is told to the fold: what is bad news by itself is, and nothing that could be good.
func waitsInFold(v entry.Verified) bool {
	b := v.Body()
	switch b.Kind {
	case model.KindValveTest:
		var x model.ValveTest
		return b.Decode(&x) != nil || !x.Lifted
	case model.KindSporeRead:
		var x model.SporeRead
		return b.Decode(&x) != nil || x.Grew
	case model.KindWitness:
		var x model.Witness
		return b.Decode(&x) != nil || !x.Reached
	case model.KindSetCounted:
		var x model.SetCounted
		return b.Decode(&x) != nil || (x.Present < x.Listed && !x.Counted)
	case model.KindCycleClosed:
		var x model.CycleClosed
		return b.Decode(&x) != nil || x.Outcome != model.RanThrough || x.BoiledDry
	case model.KindUnloaded:
		var x model.Unloaded
		return b.Decode(&x) != nil || slices.ContainsFunc(x.Checks, func(k model.PackCheck) bool { return !k.OK() })
	case model.KindCompared:
		var x model.Compared
		return b.Decode(&x) != nil || x.WorstPa != 0
	case model.KindReference: // that it showed too much
		var x model.Reference
		return b.Decode(&x) != nil || x.OffPa > 0
	case model.KindSite: // that it was put right upwards; of the site itself it tells nothing yet
		var x model.Site
		return b.Decode(&x) != nil || x.RaisedPa > 0
	case model.KindIncident, model.KindAmended, model.KindPackOpened, model.KindPackSpoilt, model.KindHold, model.KindReject, model.KindRecall, model.KindDeviceRemoved, model.KindPersonGone:
		return true
	}
	return b.Kind.Class() == model.Safety && !b.Kind.Known()
}

// waits keeps entries in the waiting room.
func (s *Store) waits(vs []entry.Verified) error {
	tx, err := s.waiting.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, v := range vs {
		b, x, id := v.Body(), v.Sealed(), v.ID()
		if _, err := tx.Exec("INSERT OR IGNORE INTO waiting (id, stream, seq, body, key, sig) VALUES (?, ?, ?, ?, ?, ?)",
			id[:],
			b.Stream[:],
			int64(b.Seq),
			x.Body,
			x.Key,
			x.Sig); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// roused are waiting entries that follow on what is in the register now, in the order to be taken.
func (s *Store) roused() (out []entry.Verified, err error) {
	all, err := s.waitingRows()
	if err != nil || len(all) == 0 {
		return nil, err
	}
	here := map[entry.ID]place{}
	gone := map[entry.ID]bool{}
	for _, w := range all { // it came by another way meanwhile
		if ok, err := s.has(w.ID()); err != nil {
			return nil, err
		} else if ok {
			if err := s.left([]entry.Verified{w.Verified}); err != nil {
				return nil, err
			}
			gone[w.ID()] = true
		}
	}
	for progress := true; progress; {
		progress = false
		for _, w := range all {
			if _, taken := here[w.ID()]; taken || gone[w.ID()] {
				continue
			}
			ok, err := s.follows(w.Verified, here)
			if err != nil {
				return nil, err
			}
			if ok {
				out, here[w.ID()], progress = append(out, w.Verified), place{w.Body().Stream, w.Body().Seq}, true
			}
		}
	}
	return out, nil
}

// waitingRows are all that wait, by stream and number.
func (s *Store) waitingRows() (out []placed, err error) {
	rows, err := s.waiting.Query("SELECT n, body, key, sig FROM waiting ORDER BY stream, seq")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var p placed
		var x entry.Sealed
		if err := rows.Scan(&p.pos, &x.Body, &x.Key, &x.Sig); err != nil {
			return nil, err
		}
		if p.Verified, err = s.verifiedWaiting(p.pos, x); err != nil {
			return nil, &Damage{err}
		}
		p.pos = -p.pos
		out = append(out, p)
	}
	return out, rows.Err()
}

// verifiedWaiting verifies a row once: as long as many wait, all of them are read with every batch.
func (s *Store) verifiedWaiting(n int64, x entry.Sealed) (v entry.Verified, err error) {
	if v, ok := s.sat[n]; ok && bytes.Equal(v.Sealed().Sig, x.Sig) && bytes.Equal(v.Sealed().Body, x.Body) {
		return v, nil
	}
	if v, err = entry.Verify(x); err == nil {
		if s.sat == nil || len(s.sat) >= mostKnown {
			s.sat = map[int64]entry.Verified{}
		}
		s.sat[n] = v
	}
	return v, err
}

// waitingAt reads one; none has a place that is not negative.
func (s *Store) waitingAt(pos int64) (v entry.Verified, ok bool, err error) {
	if pos >= 0 {
		return v, false, nil
	}
	var x entry.Sealed
	err = s.waiting.QueryRow("SELECT body, key, sig FROM waiting WHERE n = ?", -pos).Scan(&x.Body, &x.Key, &x.Sig)
	if errors.Is(err, sql.ErrNoRows) {
		return v, false, nil
	}
	if err != nil {
		return v, false, err
	}
	if v, err = entry.Verify(x); err != nil {
		return v, false, &Damage{err}
	}
	return v, true, nil
}

// left takes entries that were taken into the register out of the waiting room.
func (s *Store) left(vs []entry.Verified) error {
	for _, v := range vs {
		id := v.ID()
		if _, err := s.waiting.Exec("DELETE FROM waiting WHERE id = ?", id[:]); err != nil {
			return err
		}
	}
	return nil
}

// has says whether an entry is in the register.
func (s *Store) has(id entry.ID) (bool, error) {
	if _, ok := s.places[id]; ok {
		return true, nil
	}
	var n int
	err := s.reg.QueryRow("SELECT count(*) FROM entry WHERE id = ?", id[:]).Scan(&n)
	return n > 0, err
}

// Waiting lists what waits for entries that have not come: shown, and counted only where it is bad news.
func (s *Store) Waiting() (out []entry.Verified, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	rows, err := s.waitingRows()
	for _, r := range rows {
		out = append(out, r.Verified)
	}
	return out, err
}

// rememberWaiting keeps how many wait in the register itself: a waiting room that was lost must not pass for an empty one.
func (s *Store) rememberWaiting() error {
	var n int64
	if err := s.waiting.QueryRow("SELECT count(*) FROM waiting").Scan(&n); err != nil {
		return err
	}
	if was, err := s.mineInt("waiting"); err != nil || was == n {
		return err
	}
	return s.setMine("waiting", n)
}

func (s *Store) setMine(name string, n int64) error {
	_, err := s.reg.Exec("INSERT INTO mine (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value", name, binary.BigEndian.AppendUint64(nil, uint64(n)))
	return err
}

func (s *Store) mineInt(name string) (int64, error) {
	b, err := s.mine(name)
	if err != nil || len(b) != 8 {
		return 0, err
	}
	return int64(binary.BigEndian.Uint64(b)), nil
}

// WaitingLost is how many entries that waited are gone with their file; stops may have been among them, and they are to be asked for again.
func (s *Store) WaitingLost() (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return 0, err
	}
	return s.mineInt("waiting-lost")
}

// WaitingAnswered says that somebody saw to what was lost.
func (s *Store) WaitingAnswered() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.setMine("waiting-lost", 0)
}

// missWaiting counts what is gone from the waiting room since it was last left; the count stays until somebody saw to it.
func (s *Store) missWaiting() error {
	var n int64
	if err := s.waiting.QueryRow("SELECT count(*) FROM waiting").Scan(&n); err != nil {
		return err
	}
	was, err := s.mineInt("waiting")
	if err != nil || was <= n {
		return err
	}
	lost, err := s.mineInt("waiting-lost")
	if err != nil {
		return err
	}
	return errors.Join(s.setMine("waiting-lost", lost+was-n), s.setMine("waiting", n))
}

// openWaiting opens the waiting room; a file that cannot be read is set aside, and what it held is missed.
func (s *Store) openWaiting() error {
	path := filepath.Join(s.dir, WaitingFile)
	db, err := openFile(path, s.sync, waitingSQL)
	if err == nil {
		s.waiting = db
		if _, err = s.waitingRows(); err == nil {
			return s.makeArrivals()
		}
		err = errors.Join(err, db.Close())
	}
	if errors.Is(err, ErrNewer) || Full(err) {
		return err
	}
	for _, tail := range []string{"", "-wal", "-shm"} {
		if e := os.Rename(path+tail, path+".damaged"+tail); e != nil && !errors.Is(e, os.ErrNotExist) {
			return errors.Join(err, e)
		}
	}
	if s.waiting, err = openFile(path, s.sync, waitingSQL); err != nil {
		return err
	}
	return s.makeArrivals()
}
