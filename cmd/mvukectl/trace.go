package main

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/app/work"
	"mvuke/model/register"
)

// trace finds what a failure touches: everything of a recall, or of the load of a pack, and where each pack is.
func (t *tool) trace(args []string) int {
	f := t.flags("trace")
	dir := f.String("data", "", "data folder")
	number := f.Int64("recall", 0, "number of a recall; left out, without --pack: all that are open")
	pack := f.String("pack", "", "number of a pack")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	if *pack != "" {
		return t.tracePack(f, d, *pack)
	}
	all, err := d.Recalls()
	if err != nil {
		return t.failed(err)
	}
	named, err := d.SiteNames()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	for _, r := range all {
		if (*number == 0 && r.Closed) || (*number != 0 && r.Number != *number) {
			continue
		}
		var clinics []string
		for _, id := range r.Sites {
			clinics = append(clinics, named[id])
		}
		t.sayRecall(f, r, clinics)
		loads := []map[string]any{}
		for _, l := range r.Loads {
			packs := []map[string]any{}
			for _, q := range l.Squares {
				packs = append(packs, map[string]any{"pack": q.Label, "at": q.At, "to": q.To, "found": q.Found, "told": q.Told})
			}
			x := map[string]any{"cycle": l.Number, "from_here": l.Test, "in_pot": l.InPot, "packs": packs, "patients_listed": l.Patients}
			if l.Now != nil {
				x["now"] = map[string]any{"verdict": l.Now.Verdict, "held_min": l.Now.Held, "f0_min": l.Now.F0, "f0_guaranteed_min": l.Now.Guaranteed}
			}
			loads = append(loads, x)
		}
		sums := map[string]int{}
		for at, n := range r.Sum {
			sums[string(at)] = n
		}
		out = append(out, map[string]any{"recall": r.Number, "site": named[r.Site], "clinics": clinics, "why": r.Why, "drill": r.Drill, "closed": r.Closed, "leans_on_cycle": r.After, "wide": r.Wide,
			"loads": loads, "sums": sums, "total": r.Total, "found": r.Found, "nobody_told": r.Untold, "loads_not_here": r.Absent})
	}
	if *number != 0 && len(out) == 0 {
		return t.failed(wrong("no-recall", strconv.FormatInt(*number, 10)))
	}
	return t.print(map[string]any{"recalls": out})
}

// tracePack says where a pack is, which load it came from, and what else lay in that load.
func (t *tool) tracePack(f *flags, d *work.Desk, number string) int {
	ids, err := d.ByNumber(number)
	if err != nil {
		return t.failed(err)
	}
	if len(ids) == 0 {
		return t.failed(wrong("no-pack", number))
	}
	named, err := d.SiteNames()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	for _, id := range ids {
		p, err := d.Pack(id)
		if err != nil {
			return t.failed(err)
		}
		state := t.words.Say("shelf." + string(p.State))
		if p.Out() && p.State.Good() { // where it lies now nobody sees
			state = t.words.Say("shelf.out") + " · " + lastTo(p)
		}
		f.say("%s · %s · %s", p.Label, p.Set, state)
		x := map[string]any{"pack": p.Label, "set": p.Set, "state": p.State, "moved": p.Where(), "to": lastTo(p), "opened": p.Opened != nil, "made_at": named[p.House], "lies_at": named[p.At]}
		holds := register.Codes(p.Answer.Holds)
		x["holds"] = holds
		f.say("  %s", t.words.Say("ctl.pack-of", named[p.House], named[p.At]))
		if len(holds) > 0 {
			f.say("  %s", t.words.Each("hold.", holds))
		}
		recalls, err := d.RecallsAt(p.House)
		if err != nil {
			return t.failed(err)
		}
		calls := []map[string]any{}
		for _, r := range recalls {
			q := r.Square(p.ID)
			if q == nil {
				continue
			}
			calls = append(calls, map[string]any{"recall": r.Number, "site": named[r.Site], "closed": r.Closed, "drill": r.Drill, "at": q.At, "to": q.To, "found": q.Found, "told": q.Told})
			if !r.Closed {
				at := t.words.Say("recall.at." + string(q.At))
				f.say("  %s · %s · %s", t.words.Say("recall.head", strconv.FormatInt(r.Number, 10), t.words.Say("recall.why."+string(r.Why))), strings.Join(slices.DeleteFunc([]string{named[p.At], at, q.To}, func(x string) bool { return x == "" }), ", "), t.words.Say("recall.at."+string(q.At)+".do"))
			}
		}
		x["recalls"] = calls
		if p.HasCycle {
			var with []string
			for _, y := range p.Cycle.Begun.Packs {
				with = append(with, y.Label)
			}
			x["cycle"], x["with"] = p.Cycle.Begun.Number, with
		}
		out = append(out, x)
	}
	return t.print(map[string]any{"packs": out})
}

// sayRecall says a recall in words: how far it is, and each load with its packs by where they are.
func (t *tool) sayRecall(f *flags, r work.Recall, names []string) {
	drill := ""
	if r.Drill {
		drill = t.words.Say("recall.is-drill") + " · "
	}
	f.say("%s%s · %s · %s", drill, strings.Join(names, ", "), t.words.Say("recall.head", strconv.FormatInt(r.Number, 10), t.words.Say("recall.why."+string(r.Why))), t.words.Say("recall.found", strconv.Itoa(r.Found), strconv.Itoa(r.Total)))
	for _, l := range r.Loads {
		at := map[work.Whereabouts][]string{}
		for _, q := range l.Squares {
			at[q.At] = append(at[q.At], q.Label)
		}
		var said []string
		for _, where := range work.AllWhereabouts {
			if len(at[where]) > 0 {
				said = append(said, t.words.Say("recall.at."+string(where))+": "+strings.Join(at[where], ", "))
			}
		}
		name := t.words.Say("knot.cycle", strconv.FormatInt(l.Number, 10))
		if l.InPot {
			name += " · " + t.words.Say("recall.in-pot")
		}
		f.say("  %s: %s", name, strings.Join(said, "; "))
	}
}
