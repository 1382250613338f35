package store

import (
	"database/sql"
	"errors"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// The days on which a stick brought something of a site. It is a fact about this copy alone: another copy met other sticks, and one that was made anew knows of none.

// arrivals is made when the waiting room is opened: those of older registers lack it.
const arrivals = `CREATE TABLE IF NOT EXISTS arrival (
	n    INTEGER PRIMARY KEY,
	site BLOB    NOT NULL,
	day  INTEGER NOT NULL, -- since 1 January 1970, by the date here
	sure INTEGER NOT NULL, -- 1: that date was not in doubt
	upto INTEGER NOT NULL DEFAULT 0 -- place of the newest entry that was here then
) STRICT;
CREATE INDEX IF NOT EXISTS arrival_site ON arrival (site, sure, n)`

func (s *Store) makeArrivals() error {
	if _, err := s.waiting.Exec(arrivals); err != nil && !Full(err) { // a full disk: a day is not known, and nothing else is
		return err
	}
	var n int
	err := s.waiting.QueryRow("SELECT count(*) FROM pragma_table_info('arrival') WHERE name IN ('n', 'upto')").Scan(&n)
	if err == nil && n == 1 { // of an older register
		_, err = s.waiting.Exec("ALTER TABLE arrival ADD COLUMN upto INTEGER NOT NULL DEFAULT 0")
	}
	if Full(err) {
		return nil
	}
	return err
}

const dayLength = 24 * time.Hour

// Arrived notes that a stick brought something of some sites today; sure: that date is not in doubt.
func (s *Store) Arrived(today time.Time, sure bool, sites ...model.ID) (err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return err
	}
	tx, err := s.waiting.Begin() // a stick may bring something of every site of a district
	if err != nil {
		return err
	}
	defer tx.Rollback()
	day := today.UnixMilli() / dayLength.Milliseconds()
	if sure { // what was noted of a later day was noted when the date here stood ahead
		if _, err := tx.Exec("UPDATE arrival SET sure = 0 WHERE day > ?", day); err != nil {
			return err
		}
	}
	var upTo int64
	if err := s.reg.QueryRow("SELECT coalesce(max(pos), 0) FROM entry").Scan(&upTo); err != nil {
		return err
	}
	for _, id := range sites {
		again, err := inserted(tx.Exec("UPDATE arrival SET upto = ?4 WHERE n = (SELECT max(n) FROM arrival WHERE site = ?1) AND day = ?2 AND sure = ?3", id[:], day, sure, upTo))
		if err != nil {
			return err
		}
		if again > 0 {
			continue
		}
		if _, err := tx.Exec("INSERT INTO arrival (site, day, sure, upto) VALUES (?, ?, ?, ?)", id[:], day, sure, upTo); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// LastArrival is the last day before a moment on which a stick brought something of a site; zero: none is known. Of one that came on a day that nobody knows it is the day of the next stick
// of any site whose day is known: it was here by then.
func (s *Store) LastArrival(site model.ID, before time.Time) (day time.Time, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return day, err
	}
	known := int64(0) // the last whose day is known
	at, ok, err := s.arrivalDay(&known, "site = ?1 AND sure = 1 AND day * ?2 < ?3 ORDER BY n DESC LIMIT 1", site[:], dayLength.Milliseconds(), before.UnixMilli())
	if err != nil {
		return day, err
	}
	unsure := int64(0)
	_, after, err := s.arrivalDay(&unsure, `site = ?1 AND sure = 0 AND n > ?2 AND n < coalesce((SELECT min(n) FROM arrival WHERE site = ?1 AND sure = 1 AND n > ?2), 9223372036854775807)
		ORDER BY n DESC LIMIT 1`, site[:], known)
	if err != nil || !after {
		return dayOf(at, ok), err
	}
	next := int64(0)
	at, ok, err = s.arrivalDay(&next, "sure = 1 AND n > ?1 ORDER BY n LIMIT 1", unsure)
	return dayOf(at, ok && at*dayLength.Milliseconds() < before.UnixMilli()), err
}

// CameBy is the day by which an entry of a site was here, because a stick came on it, and the last entry of its device that was here then; zero: that is not known.
func (s *Store) CameBy(site model.ID, id entry.ID) (day time.Time, last entry.Verified, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return day, last, err
	}
	var pos int64
	var stream []byte
	if err := s.reg.QueryRow("SELECT pos, stream FROM entry WHERE id = ?", id[:]).Scan(&pos, &stream); errors.Is(err, sql.ErrNoRows) {
		return day, last, nil
	} else if err != nil {
		return day, last, err
	}
	var at, upTo int64
	err = s.waiting.QueryRow("SELECT day, upto FROM arrival WHERE site = ?1 AND sure = 1 AND upto >= ?2 ORDER BY n LIMIT 1", site[:], pos).Scan(&at, &upTo)
	if errors.Is(err, sql.ErrNoRows) {
		return day, last, nil
	}
	if err != nil {
		return day, last, err
	}
	vs, err := s.query("SELECT pos, body, key, sig FROM entry WHERE stream = ? AND pos <= ? ORDER BY seq DESC LIMIT 1", stream, upTo)
	if err == nil && len(vs) > 0 {
		last = vs[0]
	}
	return dayOf(at, true), last, err
}

// arrivalDay is the day of one arrival, and its number.
func (s *Store) arrivalDay(n *int64, which string, args ...any) (day int64, ok bool, err error) {
	err = s.waiting.QueryRow("SELECT n, day FROM arrival WHERE "+which, args...).Scan(n, &day)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, false, nil
	}
	return day, err == nil, err
}

func dayOf(day int64, known bool) time.Time {
	if !known {
		return time.Time{}
	}
	return time.UnixMilli(day * dayLength.Milliseconds()).UTC()
}
