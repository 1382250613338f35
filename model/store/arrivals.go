package store

import (
	"database/sql"
	"errors"
	"time"

	"mvuke/model"
)

// The days on which a stick brought something of a site. It is a fact about this copy alone: another copy met other sticks, and one that was made anew knows of none.

// arrivals is made when the waiting room is opened: those of older registers lack it.
const arrivals = `CREATE TABLE IF NOT EXISTS arrival (
	n    INTEGER PRIMARY KEY,
	site BLOB    NOT NULL,
	day  INTEGER NOT NULL, -- since 1 January 1970, by the date here
	sure INTEGER NOT NULL  -- 1: that date was not in doubt
) STRICT;
CREATE INDEX IF NOT EXISTS arrival_site ON arrival (site, sure, n)`

func (s *Store) makeArrivals() error {
	if _, err := s.waiting.Exec(arrivals); err != nil && !Full(err) { // a full disk: a day is not known, and nothing else is
		return err
	}
	return nil
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
	for _, id := range sites {
		if _, err := tx.Exec(`INSERT INTO arrival (site, day, sure) SELECT ?1, ?2, ?3
			WHERE (?2, ?3) IS NOT (SELECT day, sure FROM arrival WHERE site = ?1 ORDER BY n DESC LIMIT 1)`, id[:], day, sure); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// LastArrival is the last day before a moment on which a stick brought something of a site; zero: none is known, or another came after it on a day that nobody knows.
func (s *Store) LastArrival(site model.ID, before time.Time) (day time.Time, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return day, err
	}
	var n, at int64
	err = s.waiting.QueryRow("SELECT n, day FROM arrival WHERE site = ? AND sure = 1 AND day * ? < ? ORDER BY n DESC LIMIT 1", site[:], dayLength.Milliseconds(), before.UnixMilli()).Scan(&n, &at)
	if errors.Is(err, sql.ErrNoRows) {
		return day, nil
	}
	if err != nil {
		return day, err
	}
	var unsure bool
	err = s.waiting.QueryRow(`SELECT EXISTS (SELECT 1 FROM arrival WHERE site = ?1 AND sure = 0 AND n > ?2
		AND n < coalesce((SELECT min(n) FROM arrival WHERE site = ?1 AND sure = 1 AND n > ?2), 9223372036854775807))`, site[:], n).Scan(&unsure)
	if err != nil || unsure {
		return day, err
	}
	return time.UnixMilli(at * dayLength.Milliseconds()).UTC(), nil
}
