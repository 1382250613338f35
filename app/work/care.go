package work

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Task is one line of the plan of a pot's care.
type Task struct {
	Code   model.CareTask
	Every  int64     // days
	Last   time.Time // where Ever
	Ever   bool
	Known  bool  // the date of today and of the last time are not in doubt
	Left   int64 // days until it is due, where Ever and Known; below zero: overdue
	AtOnce bool  // before the next use: the pot boiled dry since
}

// Due says that it is time.
func (t Task) Due() bool { return t.AtOnce || (t.Ever && t.Known && t.Left < 0) }

// afterDry are the tasks that a pot which boiled dry needs before it is used again.
var afterDry = []model.CareTask{model.CareSeal, model.CarePlug}

// Care is the plan of a pot: each task with its days, when it was done and when it is due.
func (d *Desk) Care(pot Pot) (out []Task, err error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return nil, err
	}
	dry, err := d.boiledDry(pot)
	if err != nil {
		return nil, err
	}
	today, err := d.Date()
	if err != nil {
		return nil, err
	}
	latest := map[model.CareTask]entry.Verified{}
	answered := map[model.CareTask][]entry.ID{} // what each task was done in answer to
	gone := register.TakenBack(st.Entries, d.allows)
	for _, v := range st.Entries {
		if code := taskOf(v); code != "" && d.allows(v) && gone[v.ID()] == nil && (code != model.CareGauge || ofGauge(v, pot.Looks.Gauge)) {
			latest[code] = v
			answered[code] = append(answered[code], v.Body().Relies...)
		}
	}
	for _, code := range model.CareTasks {
		policy := model.PolicyCare(code)
		t := Task{Code: code, Every: rules.Value(policy)}
		last, done := latest[code]
		t.AtOnce = slices.Contains(afterDry, code) && slices.ContainsFunc(dry, func(v entry.Verified) bool { return !slices.Contains(answered[code], v.ID()) })
		if !rules.On(policy) && !t.AtOnce { // no plan lets a pot off that boiled dry
			continue
		}
		if done {
			if t.Last, t.Known, err = d.Corrected(last); err != nil {
				return nil, err
			}
			t.Ever, t.Known = true, t.Known && !d.ClockDoubtful()
			t.Left = t.Every - int64(today.Sub(t.Last).Hours()/24)
		}
		out = append(out, t)
	}
	return out, nil
}

// taskOf says which task an entry about a pot has done.
func taskOf(v entry.Verified) model.CareTask {
	switch b := v.Body(); b.Kind {
	case model.KindCareDone:
		var c model.CareDone
		if b.Decode(&c) == nil {
			return c.Task
		}
	case model.KindValveTest:
		var x model.ValveTest
		if b.Decode(&x) == nil && x.Lifted {
			return model.CareValve
		}
	case model.KindCompared:
		if c, ok := comparedIn(v); ok && !c.takesBack() && len(c.Restates) == 0 { // a reference that was found wrong compares nothing
			return model.CareGauge
		}
	}
	return ""
}

// dryLately is how many of the house's latest endings of cycles, and of its latest incidents, are looked through for those that name only a cycle.
const dryLately = 600

// boiledDry are the entries that say that a pot boiled dry: those about the pot, and those that name only a cycle of it, as they were written before such an entry named the
// pot too, or as they wait.
func (d *Desk) boiledDry(pot Pot) (out []entry.Verified, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return nil, err
	}
	told := slices.Clone(st.Entries)
	slices.Reverse(told)
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	for _, kind := range []model.Kind{model.KindCycleClosed, model.KindIncident} {
		vs, err := d.Store.LatestOf(kind, dryLately, heard...)
		if err != nil {
			return nil, d.unread(err)
		}
		told = append(told, vs...)
	}
	waiting, err := d.Store.Waiting()
	if err != nil {
		return nil, d.unread(err)
	}
	seen := map[entry.ID]bool{}
	for _, v := range append(told, waiting...) {
		if seen[v.ID()] || !saysDry(v) {
			continue
		}
		seen[v.ID()] = true
		yes, err := d.aboutPot(v, pot.ID)
		if err != nil {
			return nil, err
		}
		if yes {
			out = append(out, v)
		}
	}
	return out, nil
}

// aboutPot says whether an entry names a pot, or a cycle of it.
func (d *Desk) aboutPot(v entry.Verified, pot model.ID) (bool, error) {
	if slices.Contains(v.Body().Refs(), model.Ref{Noun: model.NounSterilizer, ID: pot}) {
		return true, nil
	}
	for _, id := range cyclesOf(v) {
		c, err := d.Cycle(id)
		if err != nil && !isRefusal(err, "no-such-cycle") {
			return false, err
		}
		if err == nil && c.Begun.Sterilizer == pot {
			return true, nil
		}
	}
	return false, nil
}

func saysDry(v entry.Verified) bool {
	switch b := v.Body(); b.Kind {
	case model.KindCycleClosed:
		var c model.CycleClosed
		return b.Decode(&c) == nil && c.BoiledDry
	case model.KindIncident:
		var i model.Incident
		return b.Decode(&i) == nil && i.Code == model.BoiledDry
	}
	return false
}

// CareDone records a task done, and the part that it took off the stock. Valve and gauge are done by their own tests.
func (d *Desk) CareDone(pot Pot, code model.CareTask, part model.Consumable, note string) error {
	if !slices.Contains(model.CareTasks, code) || code == model.CareValve || code == model.CareGauge {
		return refuse("care-task")
	}
	if part != "" && !slices.Contains(model.Consumables, part) {
		return refuse("care-part")
	}
	dry, err := d.boiledDry(pot)
	if err != nil {
		return err
	}
	var answers []entry.ID
	for _, v := range dry {
		answers = append(answers, v.ID())
	}
	_, err = d.sign(entry.Draft{Kind: model.KindCareDone, Relies: answers[:min(len(answers), entry.MaxNames)], Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}},
		Payload: model.CareDone{Task: code, Part: part, Note: strings.TrimSpace(note), At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// todayCare says what of a pot's care is due, and whether it is proven.
func (d *Desk) todayCare(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	for _, pot := range p.Pots {
		proven, err := d.Proven(pot.ID)
		if err != nil {
			return err
		}
		if !proven.Done() {
			add(Soon, "commission", "tests", pot.ID, pot.Looks.Name, strconv.FormatInt(proven.Good, 10), strconv.FormatInt(proven.Need, 10))
		}
		tasks, err := d.Care(pot)
		if err != nil {
			return err
		}
		for _, t := range tasks {
			switch {
			case t.AtOnce:
				add(Now, "care-now", "care", pot.ID, string(t.Code), pot.Looks.Name)
			case t.Due() && t.Code != model.CareGauge: // the gauge has a line of its own
				add(Soon, "care-due", "care", pot.ID, string(t.Code), pot.Looks.Name, strconv.FormatInt(-t.Left, 10))
			}
		}
	}
	return nil
}
