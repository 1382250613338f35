package store

import (
	"encoding/binary"

	"mvuke/model"
	"mvuke/model/register"
)

// The loads that wait for somebody and are held: an office counts them of hundreds of clinics without reading each.

// stoppedTable is made when the read tables are opened: those of older registers lack it. A row is a load that is not settled and that something open stops, or that is to be released anew.
const stoppedTable = `CREATE TABLE IF NOT EXISTS stopped (
	ref   BLOB PRIMARY KEY,
	site  BLOB    NOT NULL, -- where it was run
	doubt INTEGER NOT NULL  -- 1: something found out later does, and it was not called back since
) STRICT, WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS stopped_site ON stopped (site, doubt)`

// makeStopped makes the table, and fills it where these read tables are older than it is.
func (s *Store) makeStopped() error {
	if _, err := s.views.Exec(stoppedTable); err != nil {
		return err
	}
	if made, err := s.mark("stopped"); err != nil || made != nil {
		return err
	}
	tx, err := begin(s.views)
	if err != nil {
		return err
	}
	defer tx.shut()
	src := &reader{s: s, q: tx}
	waits := map[model.Ref]bool{}
	if err := loadsWhere(tx, waits, "settled = 0"); err != nil {
		return err
	}
	for ref := range waits {
		c, ok := register.CycleOf(src, ref.ID)
		if !ok {
			continue
		}
		site, _ := register.House(src, ref)
		if err := noteStopped(tx, ref, site, c, false); err != nil {
			return err
		}
	}
	if err := countStopped(tx); err != nil {
		return err
	}
	if src.err != nil {
		return src.err
	}
	return tx.Commit()
}

// noteStopped keeps whether a load is one of them.
func noteStopped(tx *preparedTx, ref model.Ref, site model.ID, c register.Cycle, settled bool) error {
	if _, err := tx.Exec("DELETE FROM stopped WHERE ref = ?", ref.Bytes()); err != nil {
		return err
	}
	if settled || !(c.State.Stopped() || c.ToConfirm) {
		return nil
	}
	_, err := tx.Exec("INSERT INTO stopped (ref, site, doubt) VALUES (?, ?, ?)", ref.Bytes(), site[:], c.State.Unanswered())
	return err
}

// countStopped keeps how many there are: rows that were lost must not pass for loads that nothing stops.
func countStopped(tx *preparedTx) error {
	var n int64
	if err := tx.QueryRow("SELECT count(*) FROM stopped").Scan(&n); err != nil {
		return err
	}
	return setMark(tx, "stopped", binary.BigEndian.AppendUint64(nil, uint64(n)))
}

// stoppedWhole says whether all of them are there.
func (s *Store) stoppedWhole() (bool, error) {
	counted, err := s.mark("stopped")
	if err != nil || counted == nil {
		return err == nil, err
	}
	var n int64
	err = s.views.QueryRow("SELECT count(*) FROM stopped").Scan(&n)
	return err == nil && len(counted) == 8 && n == int64(binary.BigEndian.Uint64(counted)), err
}

// LoadsAt counts the loads of a site that wait for somebody; of these, those that are held, or were released and are to be released anew; and of these, those that somebody is to look back on.
func (s *Store) LoadsAt(site model.ID) (waiting, stopped, doubted int, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return 0, 0, 0, err
	}
	err = s.views.QueryRow(`SELECT (SELECT count(*) FROM cycle WHERE site = ?1 AND settled = 0), (SELECT count(*) FROM stopped WHERE site = ?1), (SELECT count(*) FROM stopped WHERE site = ?1 AND doubt = 1)`,
		site[:]).Scan(&waiting, &stopped, &doubted)
	return waiting, stopped, doubted, err
}

// StoppedLoad is a load that waits for somebody and is held.
type StoppedLoad struct {
	Site  model.ID // where it was run
	Doubt bool     // something found out later holds it, and it was not called back since
}

// StoppedLoads are all of them, of all sites.
func (s *Store) StoppedLoads() (out map[model.ID]StoppedLoad, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return nil, err
	}
	rows, err := s.views.Query("SELECT ref, site, doubt FROM stopped")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out = map[model.ID]StoppedLoad{}
	for rows.Next() {
		var ref, site []byte
		var x StoppedLoad
		if err := rows.Scan(&ref, &site, &x.Doubt); err != nil {
			return nil, err
		}
		load, err := model.RefOf(ref)
		if err != nil {
			return nil, err
		}
		copy(x.Site[:], site)
		out[load.ID] = x
	}
	return out, rows.Err()
}
