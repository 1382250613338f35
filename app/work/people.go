package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Tile is a person as shown on the tiles.
type Tile struct {
	ID     model.ID
	Person model.Person
	Gone   bool // retired: off the tiles, the name stays on old acts
}

// People lists everybody ever on the tiles.
func (d *Desk) People() (out []Tile, err error) {
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.ByKind(model.KindPerson, heard...)
	if err != nil {
		return nil, err
	}
	err = d.read(func(src register.Source) {
		seen := map[model.ID]bool{}
		for _, v := range vs {
			for _, ref := range v.Body().Refs() {
				if ref.Noun != model.NounPerson || seen[ref.ID] {
					continue
				}
				seen[ref.ID] = true
				st := register.Of(src, ref)
				st.Entries = slices.DeleteFunc(st.Entries, func(e entry.Verified) bool {
					return !src.Roster().Allows(e) && !(e.Body().Kind == model.KindPersonGone && src.Roster().Copied(e))
				})
				st.Entries = slices.DeleteFunc(st.Entries, func(e entry.Verified) bool { return !register.Speaks(src, e, ref) })
				p, _, ok := register.Described[model.Person](st, model.KindPerson)
				if !ok || !d.onTiles(src, ref) {
					continue
				}
				t := Tile{ID: ref.ID, Person: p}
				for _, e := range st.Entries {
					t.Gone = t.Gone || e.Body().Kind == model.KindPersonGone
				}
				out = append(out, t)
			}
		}
	})
	return out, err
}

// onTiles says whether a person is to be found on our tiles: those of our site. An officer who acts here is put on the tiles here.
func (d *Desk) onTiles(src register.Source, ref model.Ref) bool {
	house, ok := register.House(src, ref)
	return ok && house == d.ownSite(src.Roster())
}

// Person finds one; an unknown id has an empty name.
func (d *Desk) Person(id model.ID) model.Person {
	people, err := d.People()
	if err != nil {
		return model.Person{}
	}
	for _, t := range people {
		if t.ID != id {
			continue
		}
		if t.Gone {
			t.Person.Roles = nil // the name stays on old acts, the right to act does not
		}
		return t.Person
	}
	return model.Person{}
}

// AddPerson puts somebody on the tiles; needs no network and nobody's leave but that of
// a person in charge or an officer.
func (d *Desk) AddPerson(p model.Person) (model.ID, error) {
	p.Name = strings.TrimSpace(p.Name)
	if p.Name == "" {
		return model.ID{}, refuse("person-name")
	}
	if err := d.mayManage(); err != nil {
		return model.ID{}, err
	}
	people, err := d.People()
	if err != nil {
		return model.ID{}, err
	}
	if slices.ContainsFunc(people, func(t Tile) bool { return !t.Gone && strings.EqualFold(t.Person.Name, p.Name) }) {
		return model.ID{}, refuse("name-taken", p.Name)
	}
	id := d.NewID()
	_, err = d.sign(entry.Draft{Kind: model.KindPerson, Payload: p, Targets: []model.Ref{{Noun: model.NounPerson, ID: id}}})
	return id, err
}

// RetirePerson takes somebody off the tiles. The last one in charge stays.
func (d *Desk) RetirePerson(id model.ID, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	people, err := d.People()
	if err != nil {
		return err
	}
	left := 0
	for _, t := range people {
		if !t.Gone && t.ID != id && t.Person.May(model.RoleInCharge) {
			left++
		}
	}
	if left == 0 {
		return refuse("last-in-charge")
	}
	_, err = d.sign(entry.Draft{Kind: model.KindPersonGone, Payload: model.PersonGone{Reason: reason}, Targets: []model.Ref{{Noun: model.NounPerson, ID: id}}})
	return err
}

// MayManage refuses what only the one in charge may do, before anybody writes why.
func (d *Desk) MayManage() error { return d.mayManage() }

func (d *Desk) mayManage() error {
	if !d.Person(d.acting).May(model.RoleInCharge) {
		return refuse("in-charge-only")
	}
	return nil
}

// Rules are the policies in force.
func (d *Desk) Rules() (model.Policies, error) {
	stated, _, err := d.rulesWithEntries()
	return stated, err
}

// rulesWithEntries also gives the entry that states each policy, for releases to rely on.
func (d *Desk) rulesWithEntries() (model.Policies, map[string]entry.ID, error) {
	site, err := d.SiteID()
	if err != nil {
		return nil, nil, err
	}
	return d.rulesAt(site)
}

// rulesAt are the rules of a site, as far as they are known here, and what states them.
func (d *Desk) rulesAt(site model.ID) (model.Policies, map[string]entry.ID, error) {
	_, heard, err := d.houseFor(site)
	if err != nil {
		return nil, nil, err
	}
	vs, err := d.Store.ByKind(model.KindPolicy, heard...)
	if err != nil {
		return nil, nil, err
	}
	var list []model.Policy
	from := map[string]entry.ID{}
	err = d.read(func(src register.Source) {
		stated := map[string][]entry.Verified{}
		for _, v := range vs {
			var p model.Policy
			if v.Body().Decode(&p) != nil || !withinBounds(p) {
				continue
			}
			if src.Roster().Allows(v) && src.Roster().Speaks(v, site) {
				stated[p.Code] = append(stated[p.Code], v)
			} else if _, known := stated[p.Code]; !known && src.Roster().Once(v) {
				stated[p.Code] = nil
			}
		}
		for code, all := range stated {
			chosen := model.Rules(nil)[code]
			for i, v := range inForce(src, site, all) { // said at once: the strictest
				var p model.Policy
				_ = v.Body().Decode(&p) // it was read above
				if i == 0 || register.StricterPolicy(p, chosen) == p {
					chosen, from[code] = p, v.ID()
				}
			}
			for _, v := range register.Doubted(src, register.Of(src, model.PolicyRef(code)), model.KindPolicy) { // a copied or removed device may have been right to ask for more
				var p model.Policy
				if v.Body().Decode(&p) == nil && p.Code == code && withinBounds(p) && src.Roster().Speaks(v, site) {
					chosen = register.StricterPolicy(chosen, p)
				}
			}
			list = append(list, chosen)
		}
	})
	return model.Rules(list), from, err
}

// inForce are the statements of a policy that nobody replaced: what a clinic states replaces nothing of the district's, and what opens a way is the district's alone to state once
// there is one.
func inForce(src register.Source, of model.ID, all []entry.Verified) []entry.Verified {
	var own, office []entry.Verified
	for _, v := range all {
		if dev, _ := src.Roster().By(v); dev.Office {
			office = append(office, v)
		} else {
			own = append(own, v)
		}
	}
	site, _ := src.Roster().Site(of)
	own = slices.DeleteFunc(register.Unreplaced(own), func(v entry.Verified) bool {
		var p model.Policy
		return v.Body().Decode(&p) == nil && register.Opens(p.Code) && p.On && site.Accepted && !site.Office && site.Root != src.Roster().Head
	})
	return append(register.Unreplaced(office), own...)
}

// bounds are the least and the most that a policy's number may be, whoever states it.
var bounds = map[string][2]int64{
	model.PolicyWrapped: {15, 60}, model.PolicyUnwrapped: {10, 60}, model.PolicyVent: {5, 60}, model.PolicyGap: {1, 15},
	model.PolicyAskEvery: {1, 15}, model.PolicyDose: {8000, 60000}, model.PolicyShelfCloth: {1, 366}, model.PolicyCompareEvery: {1, 366}, model.PolicyCardDays: {1, 366},
	model.PolicyCommission: {1, 20}, model.PolicyCare(model.CareSeal): {1, 366}, model.PolicyCare(model.CareBolts): {1, 366}, model.PolicyCare(model.CarePlug): {1, 366},
	model.PolicyCare(model.CareScale): {1, 366}, model.PolicyCare(model.CareHearth): {1, 366}, model.PolicyCare(model.CareValve): {1, 366},
	model.PolicyPackMass: {500, 12000}, model.PolicyPackDensity: {50, 300}, model.PolicyPackLength: {100, 800},
	model.PolicyShelfPaper: {1, 366}, model.PolicyShelfPouch: {1, 731}, model.PolicyUseFirst: {0, 60}, model.PolicyWashes: {1, 500}, model.PolicySporeEvery: {1, 92},
}

// withinBounds says whether a policy's number can be: one beyond, whoever stated it, is as if it were not stated.
func withinBounds(p model.Policy) bool {
	b, ok := bounds[p.Code]
	return !ok || !p.On || (p.Value >= b[0] && p.Value <= b[1])
}

// SwitchOnly says that a policy is on or off and has no number that a person states.
func SwitchOnly(code string) bool {
	_, numbered := bounds[code]
	return !numbered
}

// SetPolicy states a policy of the district, with its source.
func (d *Desk) SetPolicy(p model.Policy) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if strings.TrimSpace(p.Source) == "" {
		return refuse("policy-source")
	}
	if b := bounds[p.Code]; !withinBounds(p) {
		return refuse("policy-value", strconv.FormatInt(b[0], 10), strconv.FormatInt(b[1], 10))
	}
	st, err := d.noun(model.PolicyRef(p.Code))
	if err != nil {
		return err
	}
	dr := entry.Draft{Kind: model.KindPolicy, Payload: p, Targets: []model.Ref{st.Ref}}
	err = d.read(func(src register.Source) {
		for _, v := range register.Unreplaced(st.Entries) {
			if v.Body().Kind == model.KindPolicy && d.ours(src, v) {
				dr.Replaces = append(dr.Replaces, v.ID())
			}
		}
		for _, v := range register.Doubted(src, st, model.KindPolicy) {
			dr.Relies = append(dr.Relies, v.ID())
		}
	})
	if err != nil {
		return err
	}
	_, err = d.sign(dr)
	return err
}
