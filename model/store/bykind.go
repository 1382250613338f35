package store

import (
	"math"
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// Entries by what they are and who told them.

// saidIndex finds what a device told of a kind without walking over what all the others told. Registers older than it get it when they are opened.
const saidIndex = "CREATE INDEX IF NOT EXISTS entry_said ON entry (kind, stream, pos)"

// fewStreams is how many are asked one by one; of more, what they told lies so dense that all of a kind is walked over.
const fewStreams = 64

// ByKind lists the entries of a kind in order of arrival, of some streams or of all.
func (s *Store) ByKind(k model.Kind, by ...entry.Stream) ([]entry.Verified, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	among, args := ofStreams(by, int64(k))
	return s.query("SELECT pos, body, key, sig FROM entry WHERE kind = ?"+among+" ORDER BY pos", args...)
}

// ofStreams is a condition on the stream, and the arguments with those before it; none: of all. The plus keeps many from being looked up one by one.
func ofStreams(by []entry.Stream, args ...any) (string, []any) {
	if len(by) == 0 {
		return "", args
	}
	for _, s := range by {
		args = append(args, s[:])
	}
	column := "stream"
	if len(by) > fewStreams {
		column = "+stream"
	}
	return " AND " + column + " IN (?" + strings.Repeat(", ?", len(by)-1) + ")", args
}

// LatestOf reads the newest entries of a kind, newest first, of some streams or of all.
func (s *Store) LatestOf(k model.Kind, limit int, by ...entry.Stream) (out []entry.Verified, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	places, err := s.latest(k, math.MaxInt64, limit, by)
	if err != nil {
		return nil, err
	}
	return s.entriesAt(places, k)
}

// LatestWhile reads entries of a kind, newest first, for as long as more says so, of some streams or of all.
func (s *Store) LatestWhile(k model.Kind, more func(entry.Verified) bool, by ...entry.Stream) (out []entry.Verified, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	for last := int64(math.MaxInt64); ; {
		page, err := s.latest(k, last, 64, by)
		if err != nil || len(page) == 0 {
			return out, err
		}
		last = page[len(page)-1]
		for some := 1; len(page) > 0; some *= 2 { // who asks for few does not wait for all of the page
			some = min(some, len(page))
			vs, err := s.entriesAt(page[:some], k)
			page = page[some:]
			if err != nil {
				return out, err
			}
			for _, v := range vs {
				if !more(v) {
					return out, nil
				}
				out = append(out, v)
			}
		}
	}
}

// latest are the places of the newest entries of a kind before a place, newest first.
func (s *Store) latest(k model.Kind, before int64, limit int, by []entry.Stream) ([]int64, error) {
	const ordered = " AND pos < ? ORDER BY pos DESC LIMIT ?"
	if len(by) == 0 || len(by) > fewStreams {
		among, args := ofStreams(by, int64(k))
		return s.placesOf("SELECT pos FROM entry WHERE kind = ?"+among+ordered, append(args, before, limit)...)
	}
	var out []int64
	for _, stream := range by {
		got, err := s.placesOf("SELECT pos FROM entry WHERE kind = ? AND stream = ?"+ordered, int64(k), stream[:], before, limit)
		if err != nil {
			return nil, err
		}
		out = append(out, got...)
	}
	slices.SortFunc(out, func(a, b int64) int { return int(b - a) })
	out = slices.Compact(out) // a stream may be named twice
	return out[:min(len(out), limit)], nil
}

func (s *Store) placesOf(q string, args ...any) (out []int64, err error) {
	rows, err := s.askReg.Query(q, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var pos int64
		if err := rows.Scan(&pos); err != nil {
			return nil, err
		}
		out = append(out, pos)
	}
	return out, rows.Err()
}
