package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Judge says what the readings of a cycle show.
func (d *Desk) Judge(c register.Cycle) (assess.Result, error) { return judged(d.input(c)), nil }

// judged is a verdict also of what cannot be: a plan or a look that no pot ever had shows nothing, and is in the way of nothing else.
func judged(in assess.Input) assess.Result {
	r, err := assess.Judge(in)
	if err != nil {
		return assess.Impossible(in)
	}
	return r
}

// input is what a cycle's verdict rests on.
func (d *Desk) input(c register.Cycle) assess.Input {
	rest := c.Begun.RestMilli
	in := assess.Input{Plan: c.Begun.Plan, Item: c.Begun.Item, Readings: c.Readings, Steps: c.Steps, Breaks: c.Breaks,
		Incidents: c.Incidents, Rest: &rest, Paper: c.Paper || c.Begun.Source == model.FromPaper}
	if s := steam.Standing(c.Begun.Plan.Standing); s == steam.Never || s == steam.Overdue {
		in.Assumed = append(in.Assumed, model.Reason{Code: assess.NotCompared, Args: []string{short(float64(c.Begun.Plan.ClassMilli) / 1000)}})
	}
	if c.Begun.Practice {
		in.Assumed = append(in.Assumed, model.Reason{Code: assess.Practised})
	}
	return in
}

// Unload records the look at the packs, once they are cool.
func (d *Desk) Unload(id model.ID, checks []model.PackCheck, cool bool) error {
	c, err := d.Cycle(id)
	if err != nil {
		return err
	}
	if !cool {
		return refuse("not-cool")
	}
	if c.Closed == nil {
		return refuse("gate.not-closed")
	}
	if c.Settled() && !slices.ContainsFunc(checks, func(k model.PackCheck) bool { return !k.OK() }) {
		return refuse("settled") // bad news is always taken
	}
	if len(checks) != len(c.Begun.Packs) {
		return refuse("packs-not-all-checked")
	}
	for _, k := range checks { // what was closed with tape has tape
		if i := slices.IndexFunc(c.Begun.Packs, func(p model.LoadPack) bool { return p.ID == k.Pack }); k.NoTape && (i < 0 || c.Begun.Packs[i].Tape) {
			return refuse("tape-was-on")
		}
	}
	refs := []model.Ref{c.State.Ref}
	for _, k := range checks {
		refs = append(refs, model.Ref{Noun: model.NounPack, ID: k.Pack})
	}
	at, _ := d.place(c)
	_, err = d.sign(entry.Draft{Kind: model.KindUnloaded, Targets: refs, Payload: model.Unloaded{Checks: checks, Cool: cool, At: at}})
	return err
}

// Witnessed records what the test pack, opened there and then, shows inside.
func (d *Desk) Witnessed(id model.ID, w model.Witness) error {
	c, err := d.Cycle(id)
	if err != nil {
		return err
	}
	if c.Closed == nil {
		return refuse("gate.not-closed")
	}
	if w.Kind == model.WitnessThermometer {
		if w.MaxMilli < 60_000 || w.MaxMilli > 145_000 {
			return refuse("thermometer", short(float64(w.MaxMilli)/1000))
		}
		said, err := steam.FromPack(steam.Celsius(float64(w.MaxMilli)/1000), assess.Set, assess.ThermometerError)
		if err != nil {
			return err
		}
		w.Reached = said == steam.PackReached // it says nothing of minutes
	}
	if c.Settled() && w.Reached {
		return refuse("settled") // bad news is always taken
	}
	_, err = d.sign(entry.Draft{Kind: model.KindWitness, Targets: []model.Ref{c.State.Ref}, Payload: w})
	return err
}

// Gate is what stands between a load and its release.
type Gate struct {
	Cycle    register.Cycle
	Result   assess.Result
	Stops    []model.Reason // codes "gate.…": any of them stops the release
	Override bool           // only "not known" stands in the way, and policy lets a named person release
	Good     []model.LoadPack
	Bad      []model.LoadPack // wet, torn or with unchanged tape: they end here
}

// softerPa is by how much a frozen plan's need may lie below what is needed here now: half of what weather and rounding make (common practice, no source).
const softerPa = 300

// Open says that the load may be released now.
func (g Gate) Open() bool {
	return len(g.Stops) == 0 && (g.Result.Verdict == model.Shown || g.Override)
}

// Gate works out whether a load may be released, and by whom.
func (d *Desk) Gate(id model.ID) (g Gate, err error) {
	if g.Cycle, err = d.Cycle(id); err != nil {
		return g, err
	}
	if g.Result, err = d.Judge(g.Cycle); err != nil {
		return g, err
	}
	if slices.ContainsFunc(g.Cycle.State.Holds, func(h register.Hold) bool { return slices.Contains(register.Doubts, h.Code) }) { // by what was found out since, answered or not
		l, err := d.LookBack(id)
		if err != nil {
			return g, err
		}
		if g.Result = l.Now; !l.Stands && g.Result.Verdict == model.Shown {
			g.Result.Verdict, g.Result.Judged.Verdict = model.NotKnown, model.NotKnown
		}
	}
	rules, from, err := d.rulesWithEntries()
	if err != nil {
		return g, err
	}
	stop := func(code string, args ...string) { g.Stops = append(g.Stops, model.Reason{Code: code, Args: args}) }
	c := g.Cycle
	if c.Begun.Practice {
		stop("practice")
	}
	if p, err := d.Place(); err != nil {
		return g, err
	} else if pot, ok := p.Pot(c.Begun.Sterilizer); ok {
		if slices.Contains(pot.Why, register.HoldSpore) {
			stop("pot-grew")
		}
		rest := c.Begun.RestMilli
		if now, err := d.Plan(pot, p.Site, c.Begun.Item, &rest); err != nil || c.Begun.Plan.NeedPa+softerPa < now.Frozen.NeedPa {
			stop("plan-low") // planned for another place, or the altitude was put right since; so too where no mark can be made now
		}
	} else {
		stop("no-pot")
	}
	if proven, err := d.Proven(c.Begun.Sterilizer); err != nil {
		return g, err
	} else if !proven.Done() {
		stop("not-proven", strconv.FormatInt(proven.Good, 10), strconv.FormatInt(proven.Need, 10))
	}
	switch {
	case c.Aborted():
		stop("aborted")
	case c.Settled():
		stop("settled")
	case c.Closed == nil:
		stop("not-closed")
	}
	g.sortPacks()
	switch {
	case c.Unloaded == nil:
		stop("not-unloaded")
	case len(g.Good) == 0:
		stop("no-good-pack")
	}
	if c.Witness == nil && rules.On(model.PolicyWitness) && c.Begun.Item == model.Wrapped {
		stop("no-witness")
	}
	if rules.On(model.PolicyWitness) && c.Begun.Item == model.Wrapped && !c.Begun.TestPack {
		stop("no-test-pack")
	}
	for _, h := range c.State.Holds {
		if h.Open() {
			stop("hold", h.Code)
		}
	}
	g.indicators(stop)
	_, stated := from[model.PolicyNotKnown]
	allowed := rules.On(model.PolicyNotKnown) && stated
	switch {
	case g.Result.Verdict == model.Failed:
		stop("failed")
	case g.Result.Verdict == model.NotKnown && allowed:
		g.Override = true
	case g.Result.Verdict == model.NotKnown:
		stop("not-known")
	}
	if !d.Person(d.acting).May(model.RoleReleaser) {
		stop("not-a-releaser")
	}
	return g, nil
}

func (g *Gate) sortPacks() {
	if g.Cycle.Unloaded == nil {
		return
	}
	seen := map[model.ID]bool{}
	for _, k := range g.Cycle.Unloaded.Checks {
		seen[k.Pack] = true
	}
	for _, p := range g.Cycle.Begun.Packs {
		if seen[p.ID] && !g.Cycle.BadPacks[p.ID] { // bad in any look is bad
			g.Good = append(g.Good, p)
		} else {
			g.Bad = append(g.Bad, p)
		}
	}
}

// indicators: a wrapped pack without tape wants a strip inside; with neither it cannot be released.
func (g *Gate) indicators(stop func(string, ...string)) {
	if g.Cycle.Begun.Item != model.Wrapped {
		return
	}
	for _, p := range g.Good {
		if !p.Tape && !p.Strip {
			stop("no-indicator", p.Label)
		}
	}
}

// Release opens the good packs of a load and ends the others. What the gate stops is refused.
func (d *Desk) Release(id model.ID, reason string) error {
	g, err := d.Gate(id)
	if err != nil {
		return err
	}
	if len(g.Stops) > 0 {
		return refuse("gate."+g.Stops[0].Code, g.Stops[0].Args...)
	}
	r := model.Release{Judged: g.Result.Judged, Reason: strings.TrimSpace(reason), SamePerson: d.sameHands(g.Cycle), At: d.Clock.Now().Wall.UnixMilli()}
	relies := g.Cycle.Evidence()
	_, from, err := d.rulesWithEntries()
	if err != nil {
		return err
	}
	for _, code := range []string{model.PolicyWitness, model.PolicyCommission} { // what is asked of each load, and of its pot
		if id, ok := from[code]; ok {
			relies = append(relies, id)
		}
	}
	if g.Override {
		if r.Reason == "" {
			return refuse("reason-missing")
		}
		r.Override = true
		relies = append(relies, from[model.PolicyNotKnown])
		if err := d.read(func(src register.Source) {
			relies = append(relies, src.Roster().Acceptances(d.ownSite(src.Roster()))...)
		}); err != nil {
			return err
		}
	}
	if err := d.read(func(src register.Source) { relies = append(relies, d.authority(src, g.Cycle.State.Ref)...) }); err != nil {
		return err
	}
	refs := []model.Ref{g.Cycle.State.Ref}
	for _, p := range g.Good {
		refs = append(refs, model.Ref{Noun: model.NounPack, ID: p.ID})
	}
	drafts := []entry.Draft{{Kind: model.KindRelease, Targets: refs, Relies: relies, Payload: r}}
	if len(g.Bad) > 0 {
		drafts = append(drafts, d.reject(g.Bad, g.Result.Judged, "pack-not-good", nil))
	}
	_, err = d.sign(drafts...)
	return err
}

// sameHands says whether who loaded also releases: allowed, and marked.
func (d *Desk) sameHands(c register.Cycle) bool { return c.Entry.Body().Person == d.acting }

func (d *Desk) reject(packs []model.LoadPack, j model.Judged, reason string, cycle *model.Ref) entry.Draft {
	var refs []model.Ref
	if cycle != nil {
		refs = append(refs, *cycle)
	}
	for _, p := range packs {
		refs = append(refs, model.Ref{Noun: model.NounPack, ID: p.ID})
	}
	return entry.Draft{Kind: model.KindReject, Targets: refs, Payload: model.Reject{Judged: j, Reason: reason}}
}

// Reject ends a whole load as not sterile. Anybody may.
func (d *Desk) Reject(id model.ID, reason string) error {
	c, err := d.Cycle(id)
	if err != nil {
		return err
	}
	if c.Closed == nil {
		return refuse("gate.not-closed")
	}
	if c.Aborted() || len(c.Rejected) > 0 {
		return refuse("settled")
	}
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	res, err := d.Judge(c)
	if err != nil {
		return err
	}
	_, err = d.sign(d.reject(c.Begun.Packs, res.Judged, reason, &c.State.Ref))
	return err
}

// Stop holds a load, before its release or after it. Anybody may.
func (d *Desk) Stop(id model.ID, reason string) error {
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	c, err := d.Cycle(id)
	if err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{c.State.Ref}, Payload: model.Hold{Code: HoldStopped, Reason: strings.TrimSpace(reason)}})
	return err
}

// HoldStopped is a hold that a person laid by hand.
const HoldStopped = "stopped"

// Usable answers for one pack.
func (d *Desk) Usable(pack model.ID) (a register.Answer, err error) {
	err = d.read(func(src register.Source) { a = register.IsUsable(src, model.Ref{Noun: model.NounPack, ID: pack}) })
	return a, err
}

// LeastBoil is the least time of a rolling boil that counts as disinfection (common guidance: 20 minutes).
const LeastBoil = 20

// Boiled records instruments boiled or flamed for immediate use: disinfected, never a sterile pack, and
// in no figure of cycles.
func (d *Desk) Boiled(what string, minutes int64) error {
	if strings.TrimSpace(what) == "" {
		return refuse("what-missing")
	}
	if minutes < LeastBoil || minutes > 240 {
		return refuse("boil-short", strconv.Itoa(LeastBoil))
	}
	_, err := d.sign(entry.Draft{Kind: model.KindDisinfected, Payload: model.Disinfected{What: strings.TrimSpace(what), Minutes: minutes, Way: "boiled"}})
	return err
}

// Hurt records that somebody was hurt at the pot; the load is not judged by it.
func (d *Desk) Hurt(id model.ID) error {
	c, err := d.Cycle(id)
	if err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindIncident, Targets: []model.Ref{c.State.Ref}, Payload: model.Incident{Code: model.Burn}})
	return err
}
