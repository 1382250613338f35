package store

import (
	"encoding/binary"
	"errors"

	"mvuke/model"
	"mvuke/model/register"
)

// indexWaiting tells the fold what is bad news among what waits. Rows of what waits no longer go.
func (s *Store) indexWaiting() error {
	rows, err := s.waitingRows()
	if err != nil {
		return err
	}
	if marked, err := s.markInt("waiting"); err != nil || (marked == 0 && len(rows) == 0) {
		return err
	}
	s.amended = nil
	defer func() { s.amended = nil }()
	tx, err := begin(s.views)
	if err != nil {
		return err
	}
	defer tx.shut()
	touched := map[model.Ref]bool{}
	old, err := tx.Query("SELECT DISTINCT noun FROM target WHERE pos < 0")
	if err != nil {
		return err
	}
	for old.Next() {
		var b []byte
		if err := old.Scan(&b); err != nil {
			return errors.Join(err, old.Close())
		}
		if ref, err := model.RefOf(b); err == nil {
			touched[ref] = true
		}
	}
	if err := errors.Join(old.Err(), old.Close()); err != nil {
		return err
	}
	gone, err := inserted(tx.Exec("DELETE FROM target WHERE pos < 0"))
	if err != nil {
		return err
	}
	more, err := inserted(tx.Exec("DELETE FROM amends WHERE pos < 0"))
	if err != nil {
		return err
	}
	gone += more
	var added int64
	for _, v := range rows {
		if !waitsInFold(v.Verified) {
			continue
		}
		if v.Body().Kind == model.KindAmended {
			for _, id := range v.Body().Replaces {
				n, err := inserted(tx.Exec("INSERT OR IGNORE INTO amends (original, pos) VALUES (?, ?)", id[:], v.pos))
				if err != nil {
					return err
				}
				added += n
			}
		}
		for _, r := range v.Body().Refs() {
			if !register.Counts(v.Verified, r) || (v.Body().Kind == model.KindSite && r.Noun != model.NounHeight) || (v.Body().Kind == model.KindCompared && r.Noun != model.NounGauge) {
				continue
			}
			touched[r] = true
			n, err := inserted(tx.Exec("INSERT OR IGNORE INTO target (noun, pos) VALUES (?, ?)", r.Bytes(), v.pos))
			if err != nil {
				return err
			}
			added += n
		}
	}
	src := &reader{s: s, q: tx}
	if err := s.refold(tx, src, touched); err != nil {
		return err
	}
	var waiting [8]byte
	binary.BigEndian.PutUint64(waiting[:], uint64(added))
	if err := errors.Join(countRows(tx, added-gone), setMark(tx, "waiting", waiting[:]), src.err); err != nil {
		return err
	}
	return tx.Commit()
}

// countRows moves the mark that says how many rows the tables have.
func countRows(tx *preparedTx, by int64) error {
	var counted [8]byte
	b, err := markOf(tx, "targets")
	if err != nil {
		return err
	}
	if len(b) == 8 {
		by += int64(binary.BigEndian.Uint64(b))
	}
	binary.BigEndian.PutUint64(counted[:], uint64(by))
	return setMark(tx, "targets", counted[:])
}
