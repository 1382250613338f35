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

// SporeTest is a spore test with its result, if there is one.
type SporeTest struct {
	ID       model.ID
	Placed   model.SporePlaced
	PlacedBy entry.Verified
	Read     *model.SporeRead
	ReadBy   entry.Verified
	Said     model.SporeSaid
	Number   int64 // of the cycle
	Two      bool  // it was told of two loads: growth speaks against both, no growth for none

	also []model.SporePlaced
}

// PlaceSpore records a spore test laid into a load. An expired lot is recorded, and void.
func (d *Desk) PlaceSpore(cycle model.ID, f model.SporePlaced) (model.ID, error) {
	c, err := d.Cycle(cycle)
	if err != nil {
		return model.ID{}, err
	}
	if strings.TrimSpace(f.Lot) == "" || f.Expires == 0 {
		return model.ID{}, refuse("spore-lot")
	}
	id := d.NewID()
	f.Cycle, f.Pot, f.Lot, f.SentTo, f.At = cycle, c.Begun.Sterilizer, strings.TrimSpace(f.Lot), strings.TrimSpace(f.SentTo), d.Clock.Now().Wall.UnixMilli()
	_, err = d.sign(entry.Draft{Kind: model.KindSporePlaced, Payload: f, Targets: sporeRefs(id, f)})
	return id, err
}

func sporeRefs(id model.ID, f model.SporePlaced) []model.Ref {
	return []model.Ref{{Noun: model.NounTest, ID: id}, {Noun: model.NounCycle, ID: f.Cycle}, {Noun: model.NounSterilizer, ID: f.Pot}}
}

// ReadSpore records what was read. Growth stops the load and the pot at once, whatever else is wrong with the test; it is always
// taken, also after another reading.
func (d *Desk) ReadSpore(id model.ID, r model.SporeRead) (model.SporeSaid, error) {
	t, err := d.SporeTest(id)
	if err != nil {
		return "", err
	}
	if r.Hours < 0 || r.Hours > 24*30 || r.Degrees < 0 || r.Degrees > 80 {
		return "", refuse("incubation")
	}
	if t.Read != nil && !r.Grew {
		return "", refuse("spore-read-already")
	}
	r.At = d.Clock.Now().Wall.UnixMilli()
	if passed := (r.At - t.Placed.At) / 3_600_000; !r.Grew && r.Hours > passed+1 {
		return "", refuse("incubation-too-soon", strconv.FormatInt(r.Hours, 10), strconv.FormatInt(max(passed, 0), 10))
	}
	if c, err := d.Cycle(t.Placed.Cycle); err != nil && !(r.Grew && isRefusal(err, "no-such-cycle")) {
		return "", err
	} else if err == nil && !r.Grew && c.Closed == nil {
		return "", refuse("spore-cycle-open", strconv.FormatInt(c.Begun.Number, 10))
	}
	drafts := []entry.Draft{{Kind: model.KindSporeRead, Payload: r, Relies: []entry.ID{t.PlacedBy.ID()}, Targets: t.refs(r.Grew)}}
	if r.Grew {
		x, err := d.growthRecall(t)
		if err != nil {
			return "", err
		}
		drafts = append(drafts, x...)
	}
	if _, err = d.sign(drafts...); err != nil {
		return "", err
	}
	t, err = d.SporeTest(id)
	return t.Said, err
}

// refs are what a reading is about: growth of a test that was told of two loads is about both.
func (t SporeTest) refs(grew bool) []model.Ref {
	out := sporeRefs(t.ID, t.Placed)
	for _, p := range t.also {
		for _, r := range sporeRefs(t.ID, p) {
			if grew && !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	return out
}

// SporeTest reads one.
func (d *Desk) SporeTest(id model.ID) (t SporeTest, err error) {
	if t, err = d.sporeSaid(id); err != nil {
		return t, err
	}
	if c, err := d.Cycle(t.Placed.Cycle); err == nil {
		t.Number = c.Begun.Number
	}
	return t, nil
}

// sporeSaid is a test without the number of its cycle: of many clinics, to read their cycles too takes long.
func (d *Desk) sporeSaid(id model.ID) (t SporeTest, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounTest, ID: id})
	if err != nil {
		return t, err
	}
	if err := d.read(func(src register.Source) { st.Entries = d.sporeWords(src, st.Entries) }); err != nil {
		return t, err
	}
	t, ok := sporeOf(id, st)
	if !ok {
		return t, refuse("no-such-test")
	}
	if t.Said == model.SporeNegative && (t.Two || d.gone(t.PlacedBy) || d.gone(t.ReadBy)) { // the word of a removed device is no proof
		t.Said = model.SporeVoid
	}
	if t.Said == model.SporeNegative { // by the date that it truly was: a clock that stands years back makes no old lot good
		at, known, err := d.Corrected(t.PlacedBy)
		if err != nil {
			return t, err
		}
		read, readKnown, err := d.Corrected(t.ReadBy)
		if err != nil {
			return t, err
		}
		if !known || !readKnown || at.UnixMilli() > t.Placed.Expires || read.Sub(at) < time.Duration(t.Read.Hours-1)*time.Hour {
			t.Said = model.SporeVoid
		}
	}
	return t, nil
}

// sporeWords are the entries of a test that are heard: of who speaks for the pot that it was laid into. What others tell of it counts only if something grew.
func (d *Desk) sporeWords(src register.Source, vs []entry.Verified) []entry.Verified {
	r := src.Roster()
	var site model.ID // of the pot
	laid := slices.ContainsFunc(vs, func(v entry.Verified) bool {
		var p model.SporePlaced
		if v.Body().Kind != model.KindSporePlaced || v.Body().Decode(&p) != nil {
			return false
		}
		house, housed := register.House(src, model.Ref{Noun: model.NounSterilizer, ID: p.Pot})
		if !housed || !r.Speaks(v, house) {
			return false
		}
		site = house
		return true
	})
	return slices.DeleteFunc(slices.Clone(vs), func(v entry.Verified) bool {
		var x model.SporeRead
		bad := v.Body().Kind == model.KindSporeRead && (v.Body().Decode(&x) != nil || x.Grew)
		placed := !laid && v.Body().Kind == model.KindSporePlaced // nobody who may has laid it in: it can grow, and proves nothing
		return !bad && !placed && !(laid && r.Speaks(v, site))
	})
}

func sporeOf(id model.ID, st register.State) (t SporeTest, ok bool) {
	t.ID, t.Said = id, model.SporeWaiting
	for _, v := range st.Entries {
		var p model.SporePlaced
		switch {
		case v.Body().Kind != model.KindSporePlaced || v.Body().Decode(&p) != nil:
		case !ok:
			t.Placed, t.PlacedBy, ok = p, v, true
		default: // told twice: the worse counts
			if p.Cycle != t.Placed.Cycle || p.Pot != t.Placed.Pot {
				t.Two, t.also = true, append(t.also, p)
			}
			t.Placed.Control, t.Placed.Expires = t.Placed.Control && p.Control, min(t.Placed.Expires, p.Expires)
		}
	}
	for _, v := range st.Entries { // once it is known what was laid in: a reading may stand before it
		if v.Body().Kind != model.KindSporeRead {
			continue
		}
		var r model.SporeRead
		if v.Body().Decode(&r) != nil {
			r.Grew = true // what cannot be read may have been the bad news
		}
		if t.Read == nil || worse(t.Placed.Says(r), t.Placed.Says(*t.Read)) {
			t.Read, t.ReadBy = &r, v
		}
	}
	if t.Read != nil {
		t.Said = t.Placed.Says(*t.Read)
	}
	return t, ok
}

// worse orders results told of one test: growth before void before negative.
func worse(a, b model.SporeSaid) bool {
	order := []model.SporeSaid{model.SporePositive, model.SporeVoid, model.SporeNegative}
	return slices.Index(order, a) < slices.Index(order, b)
}

// SporeTests lists the latest, newest first.
func (d *Desk) SporeTests(limit int) (out []SporeTest, err error) {
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	return d.sporeTests(limit, heard)
}

// sporeTests are those laid in by some streams.
func (d *Desk) sporeTests(limit int, by []entry.Stream) (out []SporeTest, err error) {
	vs, err := d.Store.LatestOf(model.KindSporePlaced, limit, by...)
	if err != nil {
		return nil, d.unread(err)
	}
	return d.testsPlaced(vs)
}

// testsPlaced are the tests that some entries say were laid in.
func (d *Desk) testsPlaced(vs []entry.Verified) (out []SporeTest, err error) {
	for _, v := range vs {
		for _, r := range v.Body().Refs() {
			if r.Noun != model.NounTest {
				continue
			}
			t, err := d.SporeTest(r.ID)
			if isRefusal(err, "no-such-test") {
				continue // claimed by a device that is not known here
			}
			if err != nil {
				return nil, err
			}
			out = append(out, t)
		}
	}
	return out, nil
}

// LastNegative is the latest valid negative spore test of a pot by its cycle's corrected date; ok is false where there is none.
func (d *Desk) LastNegative(pot model.ID) (at time.Time, ok bool, err error) {
	tests, err := d.SporeTests(200)
	for _, t := range tests {
		if t.Placed.Pot == pot && t.Said == model.SporeNegative {
			laid, known, err := d.Corrected(t.PlacedBy)
			if err != nil || !known {
				continue
			}
			if when, known, err := d.provedOn(t.Placed, laid); err == nil && known && when.After(at) {
				at, ok = when, true
			}
		}
	}
	return at, ok, err
}

// todaySpores says which tests wait, which pots are due, and which are stopped by one.
func (d *Desk) todaySpores(p Place, rules model.Policies, add func(Urgency, string, string, model.ID, ...string)) error {
	tests, err := d.SporeTests(60)
	if err != nil {
		return err
	}
	for _, t := range tests {
		if t.Said == model.SporeWaiting {
			code := "spore-waiting"
			if t.Placed.SentTo != "" {
				code = "spore-sent"
			}
			add(Soon, code, "tests", t.ID, short(float64(t.Number)), t.Placed.SentTo)
		}
	}
	for _, pot := range p.Pots {
		at, ok, err := d.LastNegative(pot.ID)
		if err != nil {
			return err
		}
		now, err := d.Date()
		if err != nil {
			return err
		}
		days := int64(now.Sub(at).Hours() / 24)
		switch {
		case !ok && len(tests) > 0:
			add(Soon, "spore-none", "tests", model.ID{}, pot.Looks.Name)
		case ok && !d.ClockDoubtful() && days > rules.Value(model.PolicySporeEvery):
			add(Soon, "spore-overdue", "tests", model.ID{}, pot.Looks.Name, short(float64(days)), short(float64(rules.Value(model.PolicySporeEvery))))
		}
	}
	return nil
}
