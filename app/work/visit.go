package work

import (
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// Visits: an officer goes through a checklist at a clinic and leaves dated actions, which stand on its Today until they are done.

// VisitChecks are the lines of the checklist, in their order.
var VisitChecks = []string{"stick", "gauge", "altitude", "valve", "spores", "recalls", "shelf", "stock", "people", "card", "keys"}

// VisitForm is a visit as it is written down.
type VisitForm struct {
	Checks  []model.VisitCheck
	Actions []model.Action // ids may be zero: they are made
	Note    string
}

// longestAction is how far ahead an action may be due.
const longestAction = 2 * 366 * 24 * time.Hour

// SaveVisit records a visit to a clinic.
func (d *Desk) SaveVisit(site model.ID, f VisitForm) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	now := d.Clock.Now().Wall
	v := model.Visit{Site: site, Checks: f.Checks, Note: strings.TrimSpace(f.Note), At: now.UnixMilli()}
	for _, a := range f.Actions {
		if a.Text = strings.TrimSpace(a.Text); a.Text == "" {
			return refuse("action-text")
		}
		if due := time.UnixMilli(a.Due); due.Before(now.AddDate(0, 0, -1)) || due.After(now.Add(longestAction)) {
			return refuse("action-due")
		}
		if a.ID.IsZero() {
			a.ID = d.NewID()
		}
		v.Actions = append(v.Actions, a)
	}
	if len(v.Checks) == 0 && len(v.Actions) == 0 {
		return refuse("visit-empty")
	}
	_, err := d.sign(entry.Draft{Kind: model.KindVisit, Targets: []model.Ref{{Noun: model.NounSite, ID: site}}, Payload: v})
	return err
}

// VisitView is a visit with when and by whom.
type VisitView struct {
	model.Visit
	By    entry.Verified
	When  time.Time
	Known bool // the date is not in doubt
}

// Visits lists those to a clinic, newest first.
func (d *Desk) Visits(site model.ID, limit int) (out []VisitView, err error) {
	_, heard, err := d.houseFor(site)
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.LatestWhile(model.KindVisit, func(v entry.Verified) bool {
		var x model.Visit
		if v.Body().Decode(&x) == nil && x.Site == site {
			limit--
		}
		return limit >= 0
	}, heard...)
	if err != nil {
		return nil, d.unread(err)
	}
	for _, v := range vs {
		x := VisitView{By: v}
		if v.Body().Decode(&x.Visit) != nil || x.Site != site || d.gone(v) {
			continue
		}
		if x.When, x.Known, err = d.Corrected(v); err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}

// ActionView is an action that waits.
type ActionView struct {
	model.Action
	By      string
	Overdue bool
}

// mostVisits bounds the visits whose actions are looked through.
const mostVisits = 40

// OpenActions lists what was agreed on at a clinic and nobody has done yet, what is due first first.
func (d *Desk) OpenActions(site model.ID) (out []ActionView, err error) {
	visits, err := d.Visits(site, mostVisits)
	if err != nil || len(visits) == 0 {
		return nil, err
	}
	_, heard, err := d.houseFor(site)
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.ByKind(model.KindActionDone, heard...)
	if err != nil {
		return nil, d.unread(err)
	}
	done := map[model.ID]bool{}
	for _, v := range vs {
		var x model.ActionDone
		if v.Body().Decode(&x) == nil && !d.gone(v) {
			done[x.Action] = true
		}
	}
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	for _, v := range visits {
		for _, a := range v.Actions {
			if !done[a.ID] {
				out = append(out, ActionView{a, d.Person(v.By.Body().Person).Name, !d.ClockDoubtful() && now.UnixMilli() > a.Due})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ActionView) int { return int(min(max(a.Due-b.Due, -1), 1)) })
	return out, nil
}

// DoAction says that an action was done, and how.
func (d *Desk) DoAction(id model.ID, note string) error {
	if note = strings.TrimSpace(note); note == "" {
		return refuse("action-note")
	}
	site, err := d.SiteID()
	if err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindActionDone, Targets: []model.Ref{{Noun: model.NounSite, ID: site}}, Payload: model.ActionDone{Action: id, Note: note, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// todayActions says what was agreed on at a visit.
func (d *Desk) todayActions(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	all, err := d.OpenActions(p.ID)
	for _, a := range all {
		urgency, code := Soon, "action"
		if a.Overdue {
			urgency, code = Now, "action-overdue"
		}
		add(urgency, code, "action", a.ID, a.Text, time.UnixMilli(a.Due).Format(time.DateOnly))
	}
	return err
}
