package demo

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"time"

	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// Large fills a folder with the demo clinic and many packs, five in a load, as years of work would leave them: most were used and
// counted back, each tenth cycle had a spore test. It signs in batches with the clinic's own key, so that it takes minutes, not days. It is for
// measuring, and says nothing of what a person can do.
func Large(dir string, packs int, now time.Time) error {
	if err := Small(dir, now.Add(-time.Duration(packs/5)*between)); err != nil {
		return err
	}
	return Grow(dir, packs, now)
}

// Small sets the demo clinic up with its set lists and nothing else.
func Small(dir string, at time.Time) error {
	d, err := work.Open(dir, work.Options{Clock: NewClock(at)})
	if err != nil {
		return err
	}
	return errors.Join(d.SetUp(Answers("en")), lists(d), d.Close())
}

// Grow adds the packs of years to a small clinic.
func Grow(dir string, packs int, now time.Time) error {
	loads := packs / 5
	start := now.Add(-time.Duration(loads) * between)
	clk := NewClock(start)
	d, err := work.Open(dir, work.Options{Clock: clk})
	if err != nil {
		return err
	}
	place, err := d.Place()
	if err = errors.Join(err, d.Close()); err != nil {
		return err
	}
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		return err
	}
	key, err := home.LoadKey(home.Disk{}, dir, home.DeviceKey)
	if err != nil {
		return errors.Join(err, st.Close())
	}
	l := larger{st: st, keep: func(vs []entry.Verified) error { return st.Append(vs...) }, start: start, clk: clk, every: between, author: entry.NewAuthor(key, st.District()), pot: place.Pots[0].ID, gauge: place.Pots[0].Looks.Gauge}
	l.resume()
	for i := range loads {
		l.load(i, i >= loads-12)
	}
	for _, what := range model.Consumables {
		l.sign(model.KindStock, model.StockTold{What: what, Amount: 500, Counted: true, At: clk.Wall.UnixMilli()}, nil, model.Ref{Noun: model.NounSite, ID: place.ID})
	}
	l.flush()
	return errors.Join(l.err, st.Close())
}

// between is the time from one load to the next: four a day, more than one clinic has.
const between = 6 * time.Hour

// larger writes a large register.
type larger struct {
	st         *store.Store
	clk        *Clock
	author     *entry.Author
	pot, gauge model.ID
	grant      []entry.ID
	waiting    []entry.Verified
	packs      int64
	start      time.Time
	ids        uint64
	every      time.Duration // from one load to the next
	lib        []burnt
	last       [][]byte    // the cycle before
	incubates  []model.Ref // the test that was laid in, until it is read
	laid       time.Time
	keep       func([]entry.Verified) error
	err        error
}

func (l *larger) resume() {
	seq, head, lamport, err := l.st.Resume(l.author.Stream)
	l.author.Resume(seq, head, lamport)
	lib, unburnt := library()
	l.lib, l.err = lib, errors.Join(err, unburnt)
	devices, errDevices := l.st.ByKind(model.KindDeviceGrant)
	sites, errSites := l.st.ByKind(model.KindSiteGrant)
	l.err = errors.Join(l.err, errDevices, errSites)
	for _, v := range devices { // the certificate of the device, and those of its site's key
		var g model.DeviceGrant
		if v.Body().Decode(&g) != nil || !bytes.Equal(g.Key, l.author.Key()) {
			continue
		}
		l.grant = append(l.grant, v.ID())
		for _, w := range sites {
			var k model.SiteGrant
			if w.Body().Decode(&k) == nil && k.Site == g.Site {
				l.grant = append(l.grant, w.ID())
			}
		}
	}
}

func (l *larger) id() (out model.ID) {
	l.ids++
	out[0], out[1] = 0x4c, 0x61
	copy(out[2:8], l.author.Stream[:6]) // clinics draw apart
	for i := range 8 {
		out[15-i] = byte(l.ids >> (8 * i))
	}
	return out
}

func (l *larger) sign(kind model.Kind, payload any, relies []entry.ID, refs ...model.Ref) entry.ID {
	l.clk.Pass(time.Minute)
	v, err := l.author.Sign(entry.Draft{Kind: kind, Payload: payload, Relies: relies, Targets: refs}, l.clk.Now(), model.ClockGood)
	if l.err = errors.Join(l.err, err); l.err != nil {
		return entry.ID{}
	}
	l.author.Advance(v)
	if l.waiting = append(l.waiting, v); len(l.waiting) >= 4096 {
		l.flush()
	}
	return v.ID()
}

func (l *larger) flush() {
	if l.err == nil {
		l.err = l.keep(l.waiting)
	}
	l.waiting = nil
}

// load is one load from packing to counting back; of the latest the packs stay on the shelf.
func (l *larger) load(i int, stays bool) {
	l.clk.Wall = l.start.Add(time.Duration(i) * l.every)
	cycle := l.id()
	cref, potref := model.Ref{Noun: model.NounCycle, ID: cycle}, model.Ref{Noun: model.NounSterilizer, ID: l.pot}
	wall := func() int64 { return l.clk.Wall.UnixMilli() }
	if l.incubates != nil && l.clk.Wall.Sub(l.laid) > 48*time.Hour {
		l.sign(model.KindSporeRead, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: wall()}, nil, l.incubates...)
		l.incubates = nil
	}
	var list []model.LoadPack
	refs, packs := []model.Ref{cref, potref}, []model.Ref{}
	for j := range 5 {
		l.packs++
		x, id := sets[j%len(sets)], l.id()
		number := "NDVA" + fmt.Sprintf("%05d", l.packs)
		label := "NDV-" + number[3:] + "-" + model.CheckLetter(number)
		packs = append(packs, model.Ref{Noun: model.NounPack, ID: id})
		l.sign(model.KindPackMade, model.PackMade{Label: label, Prefix: "NDVA", Counter: l.packs, Set: x.name, Present: x.pieces, Listed: x.pieces, Wrap: x.wrap, Tape: true, Strip: true, At: wall()}, nil, packs[j])
		list = append(list, model.LoadPack{ID: id, Label: label, Set: x.name, Tape: true, Strip: true})
	}
	burnt := l.lib[(i+int(l.author.Stream[0]))%len(l.lib)] // clinics do not burn in step
	facts := []entry.ID{l.sign(model.KindCycleBegun, model.CycleBegun{Number: int64(i + 1), Sterilizer: l.pot, Gauge: l.gauge, Item: model.Wrapped, Packs: list, TestPack: true,
		WaterML: 2600, Fuel: "wood", Plan: burnt.plan, Source: model.Live, After: l.last, Begun: wall()}, nil, append(refs, packs...)...)}
	fact := func(kind model.Kind, payload any) {
		facts = append(facts, l.sign(kind, payload, nil, cref))
	}
	l.last = [][]byte{cycle[:]}
	const minute = 60_000
	for _, x := range burnt.steps {
		fact(model.KindStep, x)
	}
	for _, x := range burnt.looks { // one by one, as the window writes them
		fact(model.KindReadings, model.Readings{Source: model.Live, List: []model.Reading{x}})
	}
	fact(model.KindCycleClosed, model.CycleClosed{Outcome: model.RanThrough, At: 240 * minute})
	fact(model.KindWitness, model.Witness{Kind: model.WitnessStrip, Reached: true})
	if i%testEvery == 0 && l.incubates == nil {
		l.laid = l.clk.Wall
		test := model.Ref{Noun: model.NounTest, ID: l.id()}
		placed := model.SporePlaced{Cycle: cycle, Pot: l.pot, Lot: "S-" + strconv.Itoa(i/100), Expires: wall() + 1<<35, Control: true, At: wall()}
		facts = append(facts, l.sign(model.KindSporePlaced, placed, nil, test, cref, potref))
		l.incubates = []model.Ref{test, cref, potref}
	}
	if burnt.judged.Verdict != model.Shown {
		l.sign(model.KindReject, model.Reject{Judged: burnt.judged, Reason: "readings"}, nil, append([]model.Ref{cref}, packs...)...)
		return
	}
	l.sign(model.KindRelease, model.Release{Judged: burnt.judged, At: wall()}, append(facts, l.grant...), append([]model.Ref{cref}, packs...)...)
	if stays {
		return
	}
	for j, p := range packs {
		l.sign(model.KindPackMoved, model.PackMoved{What: model.MoveIssued, To: "maternity", At: wall()}, nil, p)
		l.sign(model.KindPackOpened, model.PackOpened{Outside: true, Strip: model.StripReached, At: wall()}, nil, p, cref)
		n := sets[j%len(sets)].pieces
		l.sign(model.KindSetCounted, model.SetCounted{Pack: p.ID, Present: n, Listed: n, At: wall()}, nil, p)
	}
}
