package store

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
)

// openViews opens the read tables; what cannot be opened is thrown away and made
// anew, unless it is only for want of room.
func (s *Store) openViews() (*sql.DB, error) {
	path := filepath.Join(s.dir, ViewsFile)
	db, err := openFile(path, "NORMAL", viewsSQL) // disposable: no full sync
	if err == nil {
		var same bool
		if same, err = ofThisSchema(db); err == nil && same {
			return db, nil
		}
		err = errors.Join(err, db.Close())
	}
	if errors.Is(err, ErrNewer) || Full(err) {
		return nil, err
	}
	for _, tail := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(path + tail); err != nil && !errors.Is(err, os.ErrNotExist) {
			return nil, err
		}
	}
	if db, err = openFile(path, "NORMAL", viewsSQL); err != nil {
		return nil, err
	}
	if _, err := ofThisSchema(db); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// ofThisSchema says whether the read tables are those of this program; new ones are marked so. Tables of another version
// are made anew: they cost only a moment.
func ofThisSchema(db *sql.DB) (bool, error) {
	want := sha256.Sum256(fmt.Appendf(nil, "%s\n%d", viewsSQL, register.Rules))
	have, err := markOf(db, "schema")
	if err != nil || bytes.Equal(have, want[:]) {
		return err == nil, err
	}
	pos, err := markOf(db, "pos")
	if err != nil || have != nil || pos != nil {
		return false, err
	}
	_, err = db.Exec("INSERT INTO mark (name, value) VALUES ('schema', ?)", want[:])
	return err == nil, err
}

func (s *Store) markInt(name string) (int64, error) {
	b, err := s.mark(name)
	if err != nil || len(b) != 8 {
		return 0, err
	}
	return int64(binary.BigEndian.Uint64(b)), nil
}

func (s *Store) mark(name string) ([]byte, error) { return markOf(s.views, name) }

// markOf reads a mark from the read tables, or from a transaction on them; nil where there is none.
func markOf(q interface {
	QueryRow(string, ...any) *sql.Row
}, name string) ([]byte, error) {
	var b []byte
	err := q.QueryRow("SELECT value FROM mark WHERE name = ?", name).Scan(&b)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	return b, err
}

func setMark(tx *preparedTx, name string, value []byte) error {
	_, err := tx.Exec("INSERT INTO mark (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value", name, value)
	return err
}

const batch = 4096

// catchUp brings the read tables from their mark to the end of the register: new entries
// are indexed and every noun they touch is folded again, whole.
func (s *Store) catchUp() error {
	from, err := s.markInt("pos")
	if err != nil {
		return err
	}
	if lamport, err := s.markInt("lamport"); err != nil {
		return err
	} else {
		s.lamport = max(s.lamport, uint64(lamport))
	}
	var last int64
	if err := s.reg.QueryRow("SELECT coalesce(max(pos), 0) FROM entry").Scan(&last); err != nil {
		return err
	}
	if last < from { // the tables belong to another register: start anew
		if err := s.forgetViews(); err != nil {
			return err
		}
		from = 0
	}
	for from < last {
		to := min(from+batch, last)
		if err := s.index(from, to); err != nil {
			return err
		}
		from = to
	}
	return nil
}

// trustViews throws the read tables away at opening if they were not made from this register, or
// if rows of theirs are gone: they decide what is shown, and cost only a moment to make again.
func (s *Store) trustViews() error {
	pos, err := s.markInt("pos")
	if err != nil || pos == 0 {
		return err
	}
	counted, err := s.markInt("targets")
	if err != nil {
		return err
	}
	made, err := s.mark("at")
	if err != nil {
		return err
	}
	var here []byte
	if err := s.reg.QueryRow("SELECT id FROM entry WHERE pos = ?", pos).Scan(&here); err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	var rows int64
	if err := s.views.QueryRow("SELECT (SELECT count(*) FROM target) + (SELECT count(*) FROM amends)").Scan(&rows); err != nil {
		return err
	}
	whole, err := s.stoppedWhole()
	if err != nil {
		return err
	}
	if bytes.Equal(made, here) && rows == counted && whole {
		return nil
	}
	return s.forgetViews()
}

// forgetViews empties the read tables, all or none: emptied tables under an old mark would
// pass for tables that are up to date.
func (s *Store) forgetViews() error {
	s.amended = nil
	defer func() { s.amended = nil }()
	tx, err := s.views.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.Exec("DELETE FROM target; DELETE FROM amends; DELETE FROM noun; DELETE FROM cycle; DELETE FROM pack; DELETE FROM pack_site; DELETE FROM whole; DELETE FROM stopped; DELETE FROM mark WHERE name <> 'schema'"); err != nil {
		return err
	}
	return tx.Commit()
}

type placed struct {
	entry.Verified
	pos int64
}

func (s *Store) index(from, to int64) error {
	news, err := s.between(from, to, false)
	if err != nil {
		return err
	}
	if len(news) == 0 { // places are given one after the other
		return &Damage{fmt.Errorf("no entries at the places %d to %d, and some after them", from+1, to)}
	}
	s.amended = nil
	defer func() { s.amended = nil }() // whatever becomes of the transaction
	touched := map[model.Ref]bool{}
	trusted := false
	var rows int64
	tx, err := begin(s.views)
	if err != nil {
		return err
	}
	defer tx.shut()
	for _, v := range news {
		b := v.Body()
		s.learnCounter(b.Lamport)
		trusted = trusted || slices.Contains(trust.Kinds, b.Kind)
		if _, err := tx.Exec("INSERT OR REPLACE INTO whole (pos, sum) VALUES (?, ?)", v.pos, sumOf(v.Sealed())); err != nil {
			return err
		}
		for _, r := range b.Refs() {
			if !register.Counts(v.Verified, r) {
				continue
			}
			touched[r] = true
			n, err := inserted(tx.Exec("INSERT OR IGNORE INTO target (noun, pos) VALUES (?, ?)", r.Bytes(), v.pos))
			if err != nil {
				return err
			}
			rows += n
		}
		if b.Kind == model.KindAmended {
			for _, id := range b.Replaces {
				n, err := inserted(tx.Exec("INSERT OR IGNORE INTO amends (original, pos) VALUES (?, ?)", id[:], v.pos))
				if err != nil {
					return err
				}
				rows += n
			}
		}
	}
	if trusted {
		before := s.roster
		if err := s.rebuildRoster(); err != nil {
			return err
		}
		if err := s.touchedBy(before.Changed(s.roster), from, touched); err != nil { // what devices said earlier counts otherwise now
			return err
		}
	}
	src := &reader{s: s, q: tx}
	for _, v := range news { // a correction concerns what its original speaks of, whatever it targets itself
		if v.Body().Kind != model.KindAmended {
			continue
		}
		for _, id := range v.Body().Replaces {
			if orig, here := src.Entry(id); here {
				for _, r := range orig.Body().Refs() {
					if register.Counts(orig, r) {
						touched[r] = true
					}
				}
			}
		}
	}
	if err := s.refold(tx, src, touched); err != nil {
		return err
	}
	var pos, lamport [8]byte
	binary.BigEndian.PutUint64(pos[:], uint64(to))
	binary.BigEndian.PutUint64(lamport[:], s.lamport)
	at := news[len(news)-1].ID()
	if err := errors.Join(setMark(tx, "pos", pos[:]), setMark(tx, "at", at[:]), countRows(tx, rows), setMark(tx, "lamport", lamport[:]), src.err); err != nil {
		return err
	}
	return tx.Commit()
}

// learnCounter goes on from the highest counter that is known here. What jumps beyond any count (half of what there is) moves nobody: an entry of a stranger could use all
// numbers up.
func (s *Store) learnCounter(n uint64) {
	if n < entry.MaxCounter/2 {
		s.lamport = max(s.lamport, n)
	}
}

func inserted(r sql.Result, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	return r.RowsAffected()
}

// between reads entries by place; fresh verifies all of them again from the disk.
func (s *Store) between(from, to int64, fresh bool) ([]placed, error) {
	rows, err := s.reg.Query("SELECT pos, id, stream, seq, kind, lamport, body, key, sig FROM entry WHERE pos > ? AND pos <= ? ORDER BY pos", from, to)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []placed
	for rows.Next() {
		var p placed
		var id, stream, body, key, sig sql.RawBytes
		var seq, kind, lamport int64
		if err := rows.Scan(&p.pos, &id, &stream, &seq, &kind, &lamport, &body, &key, &sig); err != nil {
			return nil, err
		}
		known, ok := s.known[p.pos]
		if p.Verified = known; fresh || !ok {
			if p.Verified, err = entry.Verify(entry.Sealed{Body: bytes.Clone(body), Key: bytes.Clone(key), Sig: bytes.Clone(sig)}); err != nil {
				return nil, &Damage{err}
			}
			if is, b := p.ID(), p.Body(); !bytes.Equal(id, is[:]) || !bytes.Equal(stream, b.Stream[:]) || seq != int64(b.Seq) || kind != int64(b.Kind) || lamport != int64(b.Lamport) { // else it is not found where it belongs
				return nil, &Damage{fmt.Errorf("entry %v: the row is not what the entry says", is)}
			}
			s.keep(p.pos, p.Verified)
		}
		out = append(out, p)
	}
	return out, rows.Err()
}
