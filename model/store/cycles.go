package store

import (
	"errors"
	"slices"

	"mvuke/model"
)

// Lists of cycles.

// OpenCycles lists cycles of a site that wait for somebody, oldest first.
func (s *Store) OpenCycles(site model.ID) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE site = ? AND settled = 0 ORDER BY pos", site[:])
}

// LatestCycles lists cycles of a site, newest first.
func (s *Store) LatestCycles(site model.ID, limit int) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE site = ? ORDER BY pos DESC LIMIT ?", site[:], limit)
}

// CyclesBegun lists the cycles of a site that were begun between two times, wall in ms, by the device that lit them, and all of which that date is in doubt.
func (s *Store) CyclesBegun(site model.ID, from, to int64) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE site = ?1 AND ((sure = 1 AND begun >= ?2 AND begun < ?3) OR sure = 0) ORDER BY begun, ref", site[:], from, to)
}

// CyclesOf lists the cycles of a pot, newest first.
func (s *Store) CyclesOf(pot model.ID, limit int) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE pot = ? ORDER BY pos DESC LIMIT ?", model.Ref{Noun: model.NounSterilizer, ID: pot}.Bytes(), limit)
}

// SitesOf lists where some cycles were run, and those of a pot, where it is not zero.
func (s *Store) SitesOf(pot model.ID, cycles ...model.ID) (out []model.ID, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return nil, err
	}
	read := func(q string, ref model.Ref) error {
		rows, err := s.ask.Query(q, ref.Bytes())
		if err != nil {
			return err
		}
		for rows.Next() {
			var site []byte
			err = errors.Join(err, rows.Scan(&site))
			if len(site) == len(model.ID{}) && !slices.Contains(out, model.ID(site)) && !model.ID(site).IsZero() {
				out = append(out, model.ID(site))
			}
		}
		return errors.Join(err, rows.Err(), rows.Close())
	}
	if !pot.IsZero() {
		err = read("SELECT DISTINCT site FROM cycle WHERE pot = ?", model.Ref{Noun: model.NounSterilizer, ID: pot})
	}
	for _, c := range cycles {
		err = errors.Join(err, read("SELECT site FROM cycle WHERE ref = ?", model.Ref{Noun: model.NounCycle, ID: c}))
	}
	return out, err
}

// OpenCyclesOf lists the cycles of a pot that wait for somebody, oldest first: all that something open stops, but for those that were rejected or given up.
func (s *Store) OpenCyclesOf(pot model.ID) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE pot = ? AND settled = 0 ORDER BY pos", model.Ref{Noun: model.NounSterilizer, ID: pot}.Bytes())
}

// FirstCyclesOf lists the cycles of a pot from the oldest on.
func (s *Store) FirstCyclesOf(pot model.ID, from, limit int64) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE pot = ? ORDER BY pos LIMIT ? OFFSET ?", model.Ref{Noun: model.NounSterilizer, ID: pot}.Bytes(), limit, from)
}

// CyclesNumbered lists the cycles with a number, of all pots, newest first.
func (s *Store) CyclesNumbered(n int64) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM cycle WHERE number = ? ORDER BY pos DESC LIMIT 20", n)
}

// HighestNumber is the highest cycle number of a pot.
func (s *Store) HighestNumber(pot model.ID) (n int64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return 0, err
	}
	err = s.views.QueryRow("SELECT coalesce(max(number), 0) FROM cycle WHERE pot = ?", model.Ref{Noun: model.NounSterilizer, ID: pot}.Bytes()).Scan(&n)
	return n, err
}

func (s *Store) cycles(q string, args ...any) ([]model.ID, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return nil, err
	}
	rows, err := s.views.Query(q, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []model.ID
	for rows.Next() {
		var b []byte
		if err := rows.Scan(&b); err != nil {
			return nil, err
		}
		ref, err := model.RefOf(b)
		if err != nil {
			return nil, err
		}
		out = append(out, ref.ID)
	}
	return out, rows.Err()
}
