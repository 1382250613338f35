package store

import (
	"errors"
	"time"

	"mvuke/model"
)

// The days on which a stick brought something of a site. It is a fact about this copy alone: another copy met other sticks, and one that was made anew knows of none.

// arrivals is made when the waiting room is opened: those of older registers lack it.
const arrivals = `CREATE TABLE IF NOT EXISTS arrival (
	site BLOB    NOT NULL,
	day  INTEGER NOT NULL, -- since 1 January 1970, by the date here
	PRIMARY KEY (site, day)
) STRICT, WITHOUT ROWID`

func (s *Store) makeArrivals() error {
	if _, err := s.waiting.Exec(arrivals); err != nil && !Full(err) { // a full disk: a day is not known, and nothing else is
		return err
	}
	return nil
}

const dayLength = 24 * time.Hour

// Arrived notes that a stick brought something of some sites today.
func (s *Store) Arrived(today time.Time, sites ...model.ID) (err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return err
	}
	for _, id := range sites {
		_, e := s.waiting.Exec("INSERT OR IGNORE INTO arrival (site, day) VALUES (?, ?)", id[:], int64(today.Sub(time.Unix(0, 0))/dayLength))
		err = errors.Join(err, e)
	}
	return err
}

// LastArrival is the last day before a moment on which a stick brought something of a site; zero: none is known.
func (s *Store) LastArrival(site model.ID, before time.Time) (day time.Time, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return day, err
	}
	var n int64
	err = s.waiting.QueryRow("SELECT coalesce(max(day), 0) FROM arrival WHERE site = ? AND day * ? < ?", site[:], dayLength.Milliseconds(), before.UnixMilli()).Scan(&n)
	if err != nil || n == 0 {
		return day, err
	}
	return time.UnixMilli(n * dayLength.Milliseconds()).UTC(), nil
}
