package work

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// BeginForm is what is asked before the fire is lit.
type BeginForm struct {
	Item     model.Item
	Packs    []model.LoadPack // ids may be zero: they are made
	TestPack bool
	WaterML  int64
	Fuel     string
	Rest     int64 // needle at rest, thousandths of the dial's unit
	Trial    bool  // an empty cycle with a test pack only, to bring a pot back into service
}

// MostPacks in one load; more do not go into a pot that two people can lift.
const MostPacks = 40

// Begin opens a cycle: the plan is made and frozen in its first entry. It refuses what would
// hurt somebody or could never be released.
func (d *Desk) Begin(pot Pot, site model.Site, f BeginForm) (model.ID, Planned, error) {
	if err := d.mayLight(pot, f); err != nil {
		return model.ID{}, Planned{}, err
	}
	p, err := d.Plan(pot, site, f.Item, &f.Rest)
	if err != nil {
		return model.ID{}, p, err
	}
	if p.Plan.Refused != nil {
		return model.ID{}, p, refuse("no-mark")
	}
	id, drafts, err := d.begin(pot, f, p, model.Live, d.Clock.Now().Wall)
	if err != nil {
		return model.ID{}, p, err
	}
	for _, x := range f.Packs {
		if f.Item == model.Wrapped && !x.Tape { // a day without tape is counted
			drafts = append(drafts, entry.Draft{Kind: model.KindStockOut, Payload: model.StockOut{What: string(model.StockTape)}})
			break
		}
	}
	_, err = d.sign(drafts...)
	return id, p, err
}

func (d *Desk) mayLight(pot Pot, f BeginForm) error {
	if open, err := d.UnderWay(); err != nil {
		return err
	} else if open != nil && open.Begun.Sterilizer == pot.ID {
		return refuse("cycle-under-way", strconv.FormatInt(open.Begun.Number, 10))
	}
	tasks, err := d.Care(pot)
	if err != nil {
		return err
	}
	var todo []string // before the next use
	for _, t := range tasks {
		if t.AtOnce {
			todo = append(todo, string(t.Code))
		}
	}
	switch free := home.FreeBytes(d.Dir); {
	case pot.Out && (!f.Trial || slices.ContainsFunc(pot.Why, func(code string) bool { return code != register.HoldSpore })):
		return refuse("out-of-service", pot.Looks.Name)
	case len(todo) > 0:
		return refuse("care-first", todo...)
	case f.WaterML < pot.Looks.LeastWaterML:
		return refuse("water-low", litres(f.WaterML), litres(pot.Looks.LeastWaterML))
	case free >= 0 && free < home.NoRoom:
		return refuse("disk-full")
	}
	return checkLoad(f)
}

func checkLoad(f BeginForm) error {
	switch {
	case f.Item != model.Wrapped && f.Item != model.Unwrapped:
		return refuse("item")
	case f.Trial && (len(f.Packs) > 0 || !f.TestPack):
		return refuse("trial-empty")
	case len(f.Packs) == 0 && !f.Trial:
		return refuse("no-packs")
	case len(f.Packs) > MostPacks:
		return refuse("too-many-packs", strconv.Itoa(MostPacks))
	}
	seen := map[string]bool{}
	for _, p := range f.Packs {
		label := strings.ToUpper(strings.TrimSpace(p.Label))
		if label == "" {
			return refuse("pack-without-number")
		}
		if seen[label] {
			return refuse("pack-twice", p.Label)
		}
		seen[label] = true
		if f.Item == model.Wrapped && !p.Tape && !p.Strip {
			return refuse("no-indicator", p.Label)
		}
		if p.Present < p.Listed && !p.Counted { // the first question, before anything else: it may be in the patient
			return refuse("piece-missing", p.Label, strconv.FormatInt(p.Present, 10), strconv.FormatInt(p.Listed, 10))
		}
	}
	return nil
}

// begin writes the first entry of a cycle.
func (d *Desk) begin(pot Pot, f BeginForm, p Planned, src model.Source, wall time.Time) (model.ID, []entry.Draft, error) {
	id := d.NewID()
	number, err := d.Store.HighestNumber(pot.ID)
	if err != nil {
		return id, nil, err
	}
	latest, err := d.latestBefore(pot.ID, src, wall)
	if err != nil {
		return id, nil, err
	}
	b := model.CycleBegun{Number: number + 1, Sterilizer: pot.ID, Gauge: pot.Looks.Gauge, Item: f.Item, TestPack: f.TestPack,
		WaterML: f.WaterML, Fuel: f.Fuel, RestMilli: f.Rest, Plan: p.Frozen, Source: src, Begun: wall.UnixMilli(), Practice: d.Practice}
	for _, c := range latest {
		b.After = append(b.After, c[:])
	}
	refs := []model.Ref{{Noun: model.NounCycle, ID: id}, {Noun: model.NounSterilizer, ID: pot.ID}}
	for _, x := range f.Packs {
		if x.ID.IsZero() {
			x.ID = d.NewID()
		}
		x.Label = strings.TrimSpace(x.Label)
		b.Packs = append(b.Packs, x)
		refs = append(refs, model.Ref{Noun: model.NounPack, ID: x.ID})
	}
	knows, err := d.growthsOf(pot.ID)
	if err != nil {
		return id, nil, err
	}
	found, err := d.foundOut(pot, b)
	knows = append(knows, found...)
	return id, []entry.Draft{{Kind: model.KindCycleBegun, Targets: refs, Relies: knows, Payload: b}}, err
}

// latestBefore is the latest cycle of a pot that is known here: of a slip, the latest that was surely begun before its day; none where a date is in doubt.
func (d *Desk) latestBefore(pot model.ID, src model.Source, wall time.Time) ([]model.ID, error) {
	if src != model.FromPaper {
		return d.Store.CyclesOf(pot, 1)
	}
	if d.ClockDoubtful() {
		return nil, nil
	}
	ids, err := d.Store.CyclesOf(pot, mostBeforeSlip)
	if err != nil {
		return nil, err
	}
	ids, err = d.begunBefore(ids, wall)
	if err != nil || len(ids) == 0 {
		return nil, err
	}
	var latest model.ID
	var at time.Time
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		if began, _, err := d.Began(c); err != nil {
			return nil, err
		} else if latest.IsZero() || began.After(at) {
			latest, at = id, began
		}
	}
	return []model.ID{latest}, nil
}

// mostBeforeSlip bounds the cycles among which a slip looks for the one before it.
const mostBeforeSlip = 200

// Cycle reads one.
func (d *Desk) Cycle(id model.ID) (register.Cycle, error) { return d.cycleBy(register.CycleOf, id) }

// beginning reads of a cycle only what tells of its beginning.
func (d *Desk) beginning(id model.ID) (register.Cycle, error) {
	return d.cycleBy(register.BeginningOf, id)
}

func (d *Desk) cycleBy(of func(register.Source, model.ID) (register.Cycle, bool), id model.ID) (c register.Cycle, err error) {
	ok := false
	if err := d.read(func(src register.Source) { c, ok = of(src, id) }); err != nil {
		return c, err
	}
	if !ok {
		return c, refuse("no-such-cycle")
	}
	return c, nil
}

// SiteOfCycle is the clinic that a cycle belongs to; zero: nobody knows.
func (d *Desk) SiteOfCycle(c register.Cycle) (site model.ID) {
	_ = d.read(func(src register.Source) { site, _ = register.House(src, c.State.Ref) }) // without it no clinic is named
	return site
}

// UnderWay is the cycle that is on the fire or waits to be closed; nil: none.
func (d *Desk) UnderWay() (*register.Cycle, error) {
	ids, err := d.openCycles()
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		if c.Closed == nil && !d.gone(c.Entry) { // what a removed device began stops no pot
			return &c, nil
		}
	}
	return nil, nil
}

// place tells how far into the cycle now is, in ms from its first entry. It counts on from the
// latest entry in it, by the running clock. Across a restart, or from an entry of another device,
// only the wall is left, and it is not proven: a machine without a battery clock goes on
// where it was switched off.
func (d *Desk) place(c register.Cycle) (ms int64, unproven bool) {
	at, last := int64(0), c.Entry
	for _, v := range c.State.Entries {
		if x, ok := offset(v); ok && x >= at {
			at, last = x, v
		}
	}
	since, proven := model.Since(moment(last), d.Clock.Now())
	return at + since.Milliseconds(), !proven || last.Body().Stream != d.author.Stream
}

func moment(v entry.Verified) model.Moment {
	b := v.Body()
	return model.Moment{Wall: time.UnixMilli(b.Wall), Boot: b.Boot, Elapsed: time.Duration(b.Elapsed) * time.Millisecond}
}

// offset is when in its cycle a live entry was made, by its own word.
func offset(v entry.Verified) (ms int64, ok bool) {
	b := v.Body()
	switch b.Kind {
	case model.KindCycleBegun:
		return 0, true
	case model.KindStep:
		var s model.Step
		if b.Decode(&s) == nil && s.Source == model.Live {
			return s.At, true
		}
	case model.KindReadings:
		var r model.Readings
		if b.Decode(&r) == nil && r.Source == model.Live && len(r.List) > 0 {
			return r.List[len(r.List)-1].At, true
		}
	case model.KindInterrupted:
		var i model.Interrupted
		if b.Decode(&i) == nil {
			return i.To, true
		}
	}
	return 0, false
}

// Elapsed is how long the cycle has run.
func (d *Desk) Elapsed(c register.Cycle) time.Duration {
	ms, _ := d.place(c)
	return time.Duration(ms) * time.Millisecond
}

// Step records a step; needle is what stood on the dial with it, nil where nobody looked.
func (d *Desk) Step(id model.ID, code model.StepCode, needle *int64) error {
	c, err := d.openCycle(id)
	if err != nil {
		return err
	}
	if err := checkNeedle(c.Begun.Plan, needle); err != nil {
		return err
	}
	at, unproven := d.place(c.Cycle)
	s := model.Step{Code: code, At: at, Source: model.Live, Unproven: unproven}
	if needle != nil {
		s.NeedleMilli, s.HasNeedle = *needle, true
	}
	drafts := []entry.Draft{{Kind: model.KindStep, Targets: c.refs(), Payload: s}}
	if code == model.StepOpened && needle != nil && *needle > restBand(c.Begun) {
		drafts = append(drafts, entry.Draft{Kind: model.KindIncident, Targets: c.refs(),
			Payload: model.Incident{Code: model.OpenedUnderPressure, NeedleMilli: *needle}})
	}
	_, err = d.sign(drafts...)
	return err
}

// restBand is the figure above which a needle is not "on zero": half a line beyond the rest.
func restBand(b model.CycleBegun) int64 { return b.RestMilli + max(b.Plan.LineMilli/2, 1) }

// Look records one look at the needle with the person's answer for the time before it.
func (d *Desk) Look(id model.ID, needle int64, answer model.Answer, lowest int64) error {
	c, err := d.openCycle(id)
	if err != nil {
		return err
	}
	if err := checkNeedle(c.Begun.Plan, &needle); err != nil {
		return err
	}
	if answer == model.Dipped {
		if lowest > needle {
			return refuse("lowest-above-needle")
		}
		if err := checkNeedle(c.Begun.Plan, &lowest); err != nil {
			return err
		}
	} else {
		lowest = 0
	}
	at, unproven := d.place(c.Cycle)
	r := model.Readings{Source: model.Live, List: []model.Reading{{At: at, NeedleMilli: needle, Answer: answer, LowestMilli: lowest, Unproven: unproven}}}
	_, err = d.sign(entry.Draft{Kind: model.KindReadings, Targets: c.refs(), Payload: r})
	return err
}

func checkNeedle(p model.FrozenPlan, needle *int64) error {
	if needle == nil {
		return nil
	}
	if *needle > p.SpanMilli || *needle < -p.SpanMilli/10 {
		return refuse("needle-off-dial", short(float64(*needle)/1000), short(float64(p.SpanMilli)/1000), p.Unit)
	}
	return nil
}

// CloseCycle ends a cycle: run through, or aborted with a reason.
func (d *Desk) CloseCycle(id model.ID, out model.CycleClosed) error {
	c, err := d.openCycle(id)
	if err != nil {
		return err
	}
	if out.Outcome == model.Aborted && strings.TrimSpace(out.Reason) == "" {
		return refuse("reason-missing")
	}
	if out.Outcome == model.RanThrough {
		if _, ok := c.Step(model.StepZero); !ok {
			return refuse("zero-not-seen")
		}
	}
	out.At, _ = d.place(c.Cycle)
	for _, r := range c.Readings {
		out.ReachedMark = out.ReachedMark || r.NeedleMilli >= c.Begun.Plan.RestartMilli
	}
	refs := c.refs()
	if out.BoiledDry { // the pot, too, is to be seen to
		refs = append(refs, model.Ref{Noun: model.NounSterilizer, ID: c.Begun.Sterilizer})
	}
	_, err = d.sign(entry.Draft{Kind: model.KindCycleClosed, Targets: refs, Payload: out})
	return err
}

type openCycle struct{ register.Cycle }

// refs are the cycle and its packs: what happens to the load is about each pack in it.
func (c openCycle) refs() []model.Ref { return []model.Ref{c.State.Ref} }

func (d *Desk) openCycle(id model.ID) (openCycle, error) {
	c, err := d.Cycle(id)
	if err != nil {
		return openCycle{}, err
	}
	if c.Closed != nil {
		return openCycle{}, refuse("cycle-closed", strconv.FormatInt(c.Begun.Number, 10))
	}
	return openCycle{c}, nil
}

func litres(ml int64) string { return strconv.FormatFloat(float64(ml)/1000, 'f', 1, 64) }
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
