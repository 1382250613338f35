package store

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"mvuke/model/entry"
)

// Append commits entries, all or none, with full sync. Entries already here are passed over. On
// a failed write the files are opened anew, checked, and the write tried once more.
func (s *Store) Append(vs ...entry.Verified) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, v := range vs {
		if v.Body().District != s.district {
			return ErrOtherDistrict
		}
	}
	err := s.write(vs)
	if err != nil {
		s.gaveRoom(err)
		if err = s.again(vs, err); err != nil {
			return err
		}
	}
	for _, v := range vs {
		s.learnCounter(v.Body().Lamport)
	}
	// The act is kept, whatever becomes of the read tables. Where there is room they are made anew;
	// on a full disk they stay, to follow later.
	s.viewErr = s.followUp()
	if s.gaveRoom(s.viewErr) {
		s.viewErr = s.followUp()
	}
	if s.viewErr != nil && !Full(s.viewErr) {
		s.viewErr = errors.Join(s.forgetViews(), s.followUp())
	}
	return nil
}

func (s *Store) again(vs []entry.Verified, cause error) error {
	s.broken = true
	if err := s.ready(); err != nil {
		return errors.Join(cause, err)
	}
	if err := s.quickCheck(); err != nil {
		return errors.Join(cause, err)
	}
	if err := s.write(vs); err != nil {
		return fmt.Errorf("store: not saved: %w", err)
	}
	return nil
}

// ready opens the files anew where a failed write could not: a disk that was away and is back
// needs no restart.
func (s *Store) ready() error {
	if !s.broken {
		return nil
	}
	s.broken = false // opening reads
	err := errors.Join(s.Close(), s.open())
	s.broken = err != nil
	return err
}

// Full says that an error comes of a full disk. SQLite calls it an I/O error where the room is
// wanting for the index of the log, which is the first thing that opening writes.
func Full(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code()&0xff == sqlite3.SQLITE_FULL || e.Code() == sqlite3.SQLITE_IOERR_SHMSIZE)
}

// gaveRoom gives the ballast up if an error comes of a full disk, and says whether it is worth
// trying again.
func (s *Store) gaveRoom(err error) bool { return Full(err) && s.ballast != nil && s.ballast() }

// ErrOtherDistrict says that an entry belongs to another root: another district's, or that of a practice pot.
var ErrOtherDistrict = errors.New("store: this entry belongs to another district or to practice; it cannot enter this register")

func (s *Store) write(vs []entry.Verified) error {
	tx, err := begin(s.reg)
	if err != nil {
		return err
	}
	defer tx.shut()
	var kept []placed
	for _, v := range vs {
		pos, err := insert(tx, v)
		if err != nil {
			return err
		}
		if pos > 0 && len(kept) < batch {
			kept = append(kept, placed{v, pos})
		}
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	for _, k := range kept { // verified already, when it was signed or came in
		s.keep(k.pos, k.Verified)
	}
	return nil
}

// insert gives the place of a new entry; 0 where it was here.
func insert(tx *preparedTx, v entry.Verified) (int64, error) {
	b, x, id := v.Body(), v.Sealed(), v.ID()
	r, err := tx.Exec(`INSERT OR IGNORE INTO entry (id, stream, seq, kind, lamport, body, key, sig) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		id[:],
		b.Stream[:],
		int64(b.Seq),
		int64(b.Kind),
		int64(b.Lamport),
		x.Body,
		x.Key,
		x.Sig)
	if err != nil {
		return 0, err
	}
	if n, err := r.RowsAffected(); err != nil || n == 0 {
		return 0, err
	}
	return r.LastInsertId()
}

// InsertOnly writes entries and makes no read tables: the baseline of a measurement.
func (s *Store) InsertOnly(vs []entry.Verified) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.write(vs)
}
