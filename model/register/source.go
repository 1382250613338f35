package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/trust"
)

// Source is where the fold finds entries: the store, or a Set in memory.
type Source interface {
	Targeting(model.Ref) []entry.Verified // in any order
	Entry(entry.ID) (entry.Verified, bool)
	Amending(entry.ID) []entry.Verified // Amended entries that name it in replaces
	Roster() trust.Roster
}

// Set is a register in memory.
type Set struct {
	district entry.District
	byID     map[entry.ID]entry.Verified
	byRef    map[model.Ref][]entry.Verified
	amends   map[entry.ID][]entry.Verified
	roster   trust.Roster
	all      []entry.Verified
}

// NewSet starts an empty register of a district.
func NewSet(d entry.District) *Set {
	return &Set{district: d, byID: map[entry.ID]entry.Verified{}, byRef: map[model.Ref][]entry.Verified{},
		amends: map[entry.ID][]entry.Verified{}, roster: trust.Build(d, nil)}
}

// Add takes entries in; doubles change nothing.
func (s *Set) Add(vs ...entry.Verified) {
	for _, v := range vs {
		if _, have := s.byID[v.ID()]; have {
			continue
		}
		s.byID[v.ID()] = v
		s.all = append(s.all, v)
		for _, r := range v.Body().Refs() {
			if Counts(v, r) {
				s.byRef[r] = append(s.byRef[r], v)
			}
		}
		if v.Body().Kind == model.KindAmended {
			for _, id := range v.Body().Replaces {
				s.amends[id] = append(s.amends[id], v)
			}
		}
		if slices.Contains(trust.Kinds, v.Body().Kind) {
			s.roster = trust.Build(s.district, s.all)
		}
	}
}

// Targeting lists the entries about a noun.
func (s *Set) Targeting(r model.Ref) []entry.Verified { return s.byRef[r] }

// Entry finds one.
func (s *Set) Entry(id entry.ID) (entry.Verified, bool) { v, ok := s.byID[id]; return v, ok }

// Amending lists the corrections of one.
func (s *Set) Amending(id entry.ID) []entry.Verified { return s.amends[id] }

// Roster is the folded trust.
func (s *Set) Roster() trust.Roster { return s.roster }

// All lists the entries in the order they came.
func (s *Set) All() []entry.Verified { return s.all }
