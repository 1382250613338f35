package store

import (
	"database/sql"
	"errors"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
)

// querier is the views database or a transaction on it.
type querier interface {
	Query(string, ...any) (*sql.Rows, error)
}

// reader answers the fold from the two files. The fold has no errors of its own, so
// the first one is kept; whoever used the reader asks for it before trusting the result.
type reader struct {
	s   *Store
	q   querier
	err error

	kept map[model.Ref]register.State
	// What was read of a noun in this reading: it is asked for several times.
	told   map[model.Ref][]entry.Verified
	toldOf map[refKind][]entry.Verified
}

type refKind struct {
	ref  model.Ref
	kind model.Kind
}

// Kept folds a noun once for all that ask in this reading.
func (r *reader) Kept(ref model.Ref, fold func() register.State) register.State {
	st, ok := r.kept[ref]
	if !ok {
		if r.kept == nil {
			r.kept = map[model.Ref]register.State{}
		}
		st = fold()
		r.kept[ref] = st
	}
	return st
}

// Read runs a fold over the register; an error while reading makes the whole result void.
func (s *Store) Read(do func(src Reader)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	r := &reader{s: s, q: &s.ask, err: s.current()}
	do(r)
	return r.err
}

// current has read tables that could not follow the register try once more. Nobody is
// answered from tables that are behind: a cycle under way would not be in them.
func (s *Store) current() error {
	if err := s.ready(); err != nil {
		return err
	}
	if s.viewErr != nil {
		s.viewErr = s.followUp()
	}
	return s.viewErr
}

// Reader is what the fold needs; it is a register.Source.
type Reader interface {
	Targeting(model.Ref) []entry.Verified
	Entry(entry.ID) (entry.Verified, bool)
	Amending(entry.ID) []entry.Verified
	Roster() trust.Roster
}

func (r *reader) Roster() trust.Roster { return r.s.roster }

func (r *reader) Targeting(ref model.Ref) []entry.Verified {
	vs, ok := r.told[ref]
	if !ok {
		vs = r.at("SELECT pos FROM target WHERE noun = ? ORDER BY pos", ref.Bytes())
		if r.told == nil {
			r.told = map[model.Ref][]entry.Verified{}
		}
		r.told[ref] = vs
	}
	return vs
}

// TargetingKind is Targeting of one kind: the other entries are not read.
func (r *reader) TargetingKind(ref model.Ref, k model.Kind) []entry.Verified {
	of := refKind{ref, k}
	if vs, ok := r.toldOf[of]; ok {
		return vs
	}
	vs, all := r.told[ref]
	if !all {
		var err error
		vs, err = r.s.entriesAt(r.places("SELECT pos FROM target WHERE noun = ? ORDER BY pos", ref.Bytes()), k)
		r.fail(err)
	}
	if r.toldOf == nil {
		r.toldOf = map[refKind][]entry.Verified{}
	}
	vs = slices.DeleteFunc(slices.Clone(vs), func(v entry.Verified) bool { return v.Body().Kind != k })
	r.toldOf[of] = vs
	return vs
}

func (r *reader) Amending(id entry.ID) []entry.Verified {
	if r.s.amended == nil {
		r.fail(r.s.readAmended(r.q))
	}
	if r.s.amended != nil && !r.s.amended[id] { // corrections are rare
		return nil
	}
	return r.at("SELECT pos FROM amends WHERE original = ? ORDER BY pos", id[:])
}

func (r *reader) Entry(id entry.ID) (entry.Verified, bool) {
	if pos, ok := r.s.places[id]; ok {
		return r.s.known[pos], true
	}
	vs, err := r.s.query("SELECT pos, body, key, sig FROM entry WHERE id = ?", id[:])
	r.fail(err)
	if len(vs) == 0 {
		return entry.Verified{}, false
	}
	return vs[0], true
}

func (r *reader) at(q string, arg []byte) []entry.Verified {
	vs, err := r.s.entriesAt(r.places(q, arg), 0)
	r.fail(err)
	return vs
}

// places are those that a question of the tables gives.
func (r *reader) places(q string, arg []byte) (out []int64) {
	rows, err := r.q.Query(q, arg)
	if err != nil {
		r.fail(err)
		return nil
	}
	for rows.Next() {
		var p int64
		r.fail(rows.Scan(&p))
		out = append(out, p)
	}
	r.fail(rows.Err())
	r.fail(rows.Close())
	return out
}

func (r *reader) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}

// readAmended reads what was corrected. It is forgotten whenever the tables are written.
func (s *Store) readAmended(q querier) error {
	rows, err := q.Query("SELECT DISTINCT original FROM amends")
	if err != nil {
		return err
	}
	all := map[entry.ID]bool{}
	for rows.Next() {
		var b []byte
		err = errors.Join(err, rows.Scan(&b))
		if len(b) == len(entry.ID{}) {
			all[entry.ID(b)] = true
		}
	}
	if err = errors.Join(err, rows.Err(), rows.Close()); err == nil {
		s.amended = all
	}
	return err
}
