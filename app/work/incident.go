package work

import (
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// IncidentForm is what happened that hurt somebody or could have.
type IncidentForm struct {
	Code   model.IncidentCode
	Cycle  model.ID // zero: not in a cycle
	Pack   string   // number of the pack, where it was used and not sterile
	Needle int64    // thousandths of the dial's unit, where somebody looked
	Text   string   // what happened, what was done, who was told: no names of patients
}

// Incidents are those on the form, in its order.
var Incidents = []model.IncidentCode{model.Burn, model.LidTrouble, model.OpenedUnderPressure, model.ValveBlocked, model.BoiledDry, model.UnsterileUse, model.OtherIncident}

// InCycle says that an incident belongs to a cycle, whose load it ends.
func InCycle(c model.IncidentCode) bool {
	return c == model.OpenedUnderPressure || c == model.BoiledDry
}

// Report records an incident. Anybody may; what speaks against a load ends it.
func (d *Desk) Report(f IncidentForm) error {
	if !slices.Contains(Incidents, f.Code) {
		return refuse("incident-what")
	}
	if strings.TrimSpace(f.Text) == "" {
		return refuse("incident-text")
	}
	if InCycle(f.Code) && f.Cycle.IsZero() {
		return refuse("incident-cycle")
	}
	p, err := d.Place()
	if err != nil {
		return err
	}
	var refs []model.Ref
	if !f.Cycle.IsZero() {
		c, err := d.Cycle(f.Cycle)
		if err != nil {
			return err
		}
		refs = append(refs, model.Ref{Noun: model.NounCycle, ID: f.Cycle})
		if f.Code == model.BoiledDry {
			refs = append(refs, model.Ref{Noun: model.NounSterilizer, ID: c.Begun.Sterilizer})
		}
	}
	if f.Code == model.UnsterileUse {
		ids, err := d.ByNumber(f.Pack)
		if err != nil {
			return err
		}
		if len(ids) != 1 {
			return refuse("incident-pack", f.Pack)
		}
		refs = []model.Ref{packRef(ids[0])} // the pack is at fault, not its load
	}
	if len(refs) == 0 {
		for _, pot := range p.Pots {
			refs = append(refs, model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
		}
	}
	_, err = d.sign(entry.Draft{Kind: model.KindIncident, Targets: refs, Payload: model.Incident{Code: f.Code, Text: strings.TrimSpace(f.Text), NeedleMilli: f.Needle}})
	return err
}

// IncidentView is an incident with when, by whom, and what it was about.
type IncidentView struct {
	model.Incident
	By    entry.Verified
	When  time.Time
	Known bool // the date is not in doubt
	Cycle model.ID
	Pack  model.ID
}

// IncidentList lists the latest, newest first.
func (d *Desk) IncidentList(limit int) (out []IncidentView, err error) {
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	return d.incidents(limit, heard)
}

// incidents are the latest that some streams told of, newest first.
func (d *Desk) incidents(limit int, by []entry.Stream) (out []IncidentView, err error) {
	vs, err := d.Store.LatestOf(model.KindIncident, limit, by...)
	if err != nil {
		return nil, d.unread(err)
	}
	for _, v := range vs {
		x := IncidentView{By: v}
		if v.Body().Decode(&x.Incident) != nil {
			x.Code = model.OtherIncident
		}
		if x.When, x.Known, err = d.Corrected(v); err != nil {
			return nil, err
		}
		for _, r := range v.Body().Refs() {
			switch r.Noun {
			case model.NounCycle:
				x.Cycle = r.ID
			case model.NounPack:
				x.Pack = r.ID
			}
		}
		out = append(out, x)
	}
	return out, nil
}
