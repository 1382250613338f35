package register

import (
	"bytes"
	"crypto/ed25519"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// world makes random histories: a district with devices that may and may not, packs in
// cycles, good and bad facts, releases, clears, amendments, removals.
type world struct {
	rng     *rand.Rand
	set     *Set
	root    *entry.Author
	site    *entry.Author
	authors []*entry.Author
	grants  map[entry.Stream]entry.ID
	packs   []model.Ref
	cycles  []model.Ref
	loads   map[model.Ref]entry.ID
	facts   []entry.Verified
	policy  entry.ID
	key     entry.ID // the root's grant of the site's key
	at      int64
}

func newAuthor(n byte, d entry.District) *entry.Author {
	return entry.NewAuthor(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)), d)
}

func newWorld(seed uint64) *world {
	w := &world{rng: rand.New(rand.NewPCG(seed, 1)), grants: map[entry.Stream]entry.ID{}, loads: map[model.Ref]entry.ID{}}
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{1}, 32))
	d := entry.DistrictOf(key.Public().(ed25519.PublicKey))
	w.set, w.root, w.site = NewSet(d), newAuthor(1, d), newAuthor(2, d)
	site := model.ID{9}
	w.act(w.root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "test"}})
	w.key = w.act(w.root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: site, Key: w.site.Key()}}).ID()
	for i := range byte(4) { // device 0 and 1 may all, 2 may record only, 3 is never certified
		a := newAuthor(10+i, d)
		w.authors = append(w.authors, a)
		caps := model.CapRecord | model.CapRelease | model.CapManage
		if i == 2 {
			caps = model.CapRecord
		}
		if i < 3 {
			v := w.act(w.site, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: site, Key: a.Key(), Letter: "A", Caps: caps}})
			w.grants[a.Stream] = v.ID()
		}
	}
	return w
}

func (w *world) act(a *entry.Author, d entry.Draft) entry.Verified {
	w.at++
	if d.Person.IsZero() {
		d.Person = model.ID{1}
	}
	v, err := a.Sign(d, model.Moment{Wall: time.UnixMilli(w.at)}, model.ClockGood)
	if err != nil {
		panic(err)
	}
	a.Advance(v)
	w.set.Add(v)
	return v
}

func pick[T any](w *world, xs []T) (x T) {
	if len(xs) == 0 {
		return x
	}
	return xs[w.rng.IntN(len(xs))]
}

// step draws one act. Only devices write; the root and the site only at the start.
func (w *world) step() (entry.Verified, bool) {
	a := pick(w, w.authors)
	cycle, pack := pick(w, w.cycles), pick(w, w.packs)
	target := pick(w, []model.Ref{cycle, pack})
	do := func(k model.Kind, p any, refs ...model.Ref) (entry.Verified, bool) {
		v := w.act(a, entry.Draft{Kind: k, Payload: p, Targets: refs})
		w.facts = append(w.facts, v)
		return v, true
	}
	if w.rng.IntN(20) == 0 { // the root names a key, or a site's key a device, in the middle of things
		return w.grantSomething(), true
	}
	kind := w.rng.IntN(14)
	if w.rng.IntN(24) == 0 { // the life of a pack after its release
		kind = 14 + w.rng.IntN(2)
	}
	if len(w.cycles) == 0 {
		kind = 0
	}
	switch kind {
	case 0:
		c := model.Ref{Noun: model.NounCycle, ID: model.ID{byte(len(w.cycles) + 1), 1}}
		pot := model.Ref{Noun: model.NounSterilizer, ID: model.ID{1, 2}}
		refs := []model.Ref{c, pot}
		for i := range byte(2) {
			p := model.Ref{Noun: model.NounPack, ID: model.ID{byte(len(w.cycles) + 1), 3, i}}
			refs = append(refs, p)
			w.packs = append(w.packs, p)
		}
		w.cycles = append(w.cycles, c)
		var knows []entry.ID // comparisons of the gauge that it was lit in knowledge of
		for _, v := range w.set.Targeting(lawGauge) {
			if w.rng.IntN(2) == 0 {
				knows = append(knows, v.ID())
			}
		}
		v := w.act(a, entry.Draft{Kind: model.KindCycleBegun, Targets: refs, Relies: knows, Payload: model.CycleBegun{Number: int64(len(w.cycles)), Gauge: lawGauge.ID, Packs: []model.LoadPack{{ID: refs[2].ID}}, Plan: model.FrozenPlan{ErrorPa: 1000}}})
		w.facts = append(w.facts, v)
		ok := true
		for _, r := range refs {
			w.loads[r] = v.ID()
		}
		return v, ok
	case 1:
		return do(model.KindReadings, model.Readings{}, cycle)
	case 2:
		return do(model.KindWitness, model.Witness{Kind: model.WitnessStrip, Reached: w.rng.IntN(2) == 0}, cycle)
	case 3:
		return do(model.KindUnloaded, model.Unloaded{Checks: []model.PackCheck{{Pack: pack.ID, TapeOK: true, WrapOK: true, Dry: w.rng.IntN(2) == 0}}}, cycle, pack)
	case 4:
		return do(model.KindIncident, model.Incident{Code: model.OpenedUnderPressure}, cycle)
	case 5:
		return do(model.KindCycleClosed, model.CycleClosed{Outcome: pick(w, []model.Outcome{model.RanThrough, model.RanThrough, model.Aborted})}, cycle)
	case 6:
		if w.rng.IntN(4) == 0 {
			if w.rng.IntN(3) == 0 { // its reference showed too much
				return do(model.KindReference, model.Reference{OffPa: 400 + 400*int64(w.rng.IntN(3))}, lawReference)
			}
			if w.rng.IntN(3) == 0 { // its dial was described wrongly
				return do(model.KindGauge, model.GaugeLooks{Unit: "bar", OverPa: 700 * int64(w.rng.IntN(2))}, lawGauge)
			}
			return do(model.KindCompared, model.Compared{WorstPa: 500 + 1000*int64(w.rng.IntN(3)), Reference: lawReference.ID}, lawGauge, lawReference)
		}
		if w.rng.IntN(3) == 0 {
			return do(model.KindRecall, model.Recall{Number: 1, Why: model.RecallHand, Drill: w.rng.IntN(3) == 0}, model.Ref{Noun: model.NounRecall, ID: model.ID{1}}, cycle)
		}
		return do(model.KindHold, model.Hold{Code: "doubt"}, target)
	case 7:
		return do(model.KindReject, model.Reject{}, pack)
	case 8:
		v := pick(w, w.facts)
		return w.act(a, entry.Draft{Kind: model.KindAmended, Payload: model.Amended{Field: "x", Judged: w.rng.IntN(2) == 0, Reason: "r"},
			Targets: v.Body().Refs(), Replaces: []entry.ID{v.ID()}}), true
	case 9:
		return w.clear(a, target), true
	case 10:
		w.policy = w.act(a, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: w.rng.IntN(3) > 0, Source: "s"}}).ID()
		return w.set.byID[w.policy], true
	case 11:
		if w.rng.IntN(8) == 0 {
			s := pick(w, w.authors).Stream
			return do(model.KindDeviceRemoved, model.DeviceRemoved{Stream: s[:], Seq: int64(w.rng.IntN(20))})
		}
		return do(model.Kind(2500), map[int]int{1: 1}, target)
	case 14:
		return do(model.KindPackOpened, model.PackOpened{Strip: pick(w, []model.StripSaid{model.StripReached, model.StripNot})}, pack, cycle)
	case 15:
		return do(pick(w, []model.Kind{model.KindPackSpoilt, model.KindPackMade, model.KindPackMoved}), model.PackMoved{What: model.MoveIssued}, pack)
	}
	return w.release(a, pack), true
}

// goodLoad is a load that nothing speaks against when it is released: without some, random histories
// seldom open a pack.
func (w *world) goodLoad() {
	a := w.authors[0]
	c, p := model.Ref{Noun: model.NounCycle, ID: model.ID{200}}, model.Ref{Noun: model.NounPack, ID: model.ID{201}}
	refs := []model.Ref{c, {Noun: model.NounSterilizer, ID: model.ID{200}}, p}
	load := w.act(a, entry.Draft{Kind: model.KindCycleBegun, Targets: refs, Payload: model.CycleBegun{Number: 200}})
	w.act(a, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{p}, Relies: []entry.ID{load.ID(), w.grants[a.Stream], w.key},
		Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	w.cycles, w.packs = append(w.cycles, c), append(w.packs, p)
	for _, r := range refs {
		w.loads[r] = load.ID()
	}
}

func (w *world) grantSomething() entry.Verified {
	site := model.ID{9 + byte(w.rng.IntN(2))}
	if w.rng.IntN(2) == 0 {
		return w.act(w.root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: site, Key: pick(w, []*entry.Author{w.site, w.authors[3]}).Key()}})
	}
	by := pick(w, []*entry.Author{w.site, w.authors[3]})
	return w.act(by, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: site, Key: pick(w, w.authors).Key(), Letter: "X", Caps: 7}})
}

func (w *world) release(a *entry.Author, pack model.Ref) entry.Verified {
	relies := []entry.ID{w.grants[a.Stream], w.key}
	if load := w.set.byID[w.loads[pack]]; w.set.Roster().Known(load) { // a desk never relies on claims
		relies = append(relies, load.ID())
	}
	if w.rng.IntN(4) > 0 { // most people look at everything
		for _, c := range Of(w.set, pack).Parents {
			for _, v := range w.set.Targeting(c) {
				if slices.Contains(judgedKinds, v.Body().Kind) {
					relies = append(relies, v.ID())
				}
			}
		}
	}
	if v := pick(w, w.facts); w.rng.IntN(2) == 0 && !v.IsZero() && w.set.Roster().Known(v) {
		relies = append(relies, v.ID())
	}
	r := model.Release{Judged: model.Judged{Verdict: pick(w, []model.Verdict{model.Shown, model.Shown, model.NotKnown, model.Failed})}}
	if r.Judged.Verdict == model.NotKnown {
		r.Override, r.Reason = true, "r"
		relies = append(relies, w.policy)
	}
	return w.act(a, entry.Draft{Kind: model.KindRelease, Payload: r, Targets: []model.Ref{pack}, Relies: relies})
}

func (w *world) clear(a *entry.Author, target model.Ref) entry.Verified {
	var ids []entry.ID
	for _, h := range Of(w.set, target).Holds {
		ids = append(ids, h.ID)
	}
	return w.act(a, entry.Draft{Kind: model.KindClear, Payload: model.Clear{Reason: "r"}, Targets: []model.Ref{target},
		Clears: ids, Relies: []entry.ID{w.grants[a.Stream], w.key}})
}

// lawReference is what it was compared with.
var lawReference = model.Ref{Noun: model.NounReference, ID: model.ID{1, 6}}

// lawGauge watched every load.
var lawGauge = model.Ref{Noun: model.NounGauge, ID: model.ID{1, 5}}

type rule func(Source, model.Ref) bool

func lawful(src Source, r model.Ref) bool { return IsUsable(src, r).Word == Usable }

// breaks plays a random history and says whether an entry other than a release or a clear ever
// opened a pack.
func breaks(seed uint64, steps int, usable rule) bool {
	w := newWorld(seed)
	before := map[model.Ref]bool{}
	for i := range steps {
		if i == steps/2 {
			w.goodLoad()
			for _, p := range w.packs {
				before[p] = usable(w.set, p)
			}
		}
		v, _ := w.step()
		k := v.Body().Kind
		for _, p := range w.packs {
			now := usable(w.set, p)
			if now && !before[p] && k != model.KindRelease && k != model.KindClear {
				return true
			}
			before[p] = now
		}
	}
	return false
}

// seeds is how many histories a test plays; the race detector is some twenty times slower.
func seeds(n uint64) uint64 {
	if testing.Short() {
		return n / 5
	}
	return n
}

func TestOnlyReleaseOrClearOpensAPack(t *testing.T) {
	for seed := range seeds(400) {
		if breaks(seed, 60, lawful) {
			t.Fatalf("seed %d: something else opened a pack", seed)
		}
	}
}

// The twins are the rules that must not be: each must break the law in the same test.
func TestKnownBadTwinsBreakTheLaw(t *testing.T) {
	if testing.Short() {
		t.Skip("a twin may need more histories than the short run plays")
	}
	twins := map[string]rule{
		"last writer wins": func(src Source, r model.Ref) bool {
			st := Of(src, r)
			for i := len(st.Entries) - 1; i >= 0; i-- {
				switch v := st.Entries[i]; v.Body().Kind {
				case model.KindRelease:
					return true
				case model.KindReject, model.KindHold, model.KindUnloaded:
					return v.Body().Kind == model.KindUnloaded && len(holdsOf(src, v, r)) == 0
				}
			}
			return false
		},
		"amendment lifts a failure": func(src Source, r model.Ref) bool {
			a := IsUsable(src, r)
			if a.Word != Held || a.Release.IsZero() {
				return a.Word == Usable
			}
			return !slices.ContainsFunc(a.Holds, func(h Hold) bool { return len(src.Amending(h.Cause.ID())) == 0 })
		},
		"a later good test frees": func(src Source, r model.Ref) bool {
			a := IsUsable(src, r)
			if a.Word != Held || a.Release.IsZero() {
				return a.Word == Usable
			}
			return !slices.ContainsFunc(a.Holds, func(h Hold) bool {
				if h.Code != HoldWitness {
					return true
				}
				var good bool
				for _, ref := range h.Cause.Body().Refs() {
					for _, v := range Of(src, ref).Entries {
						var x model.Witness
						good = good || (v.Body().Kind == model.KindWitness && v.Body().Decode(&x) == nil && x.Reached && entry.Less(h.Cause, v) < 0)
					}
				}
				return !good
			})
		},
		"removal of a device lifts its holds": func(src Source, r model.Ref) bool {
			a := IsUsable(src, r)
			if a.Word != Held || a.Release.IsZero() {
				return a.Word == Usable
			}
			return !slices.ContainsFunc(a.Holds, func(h Hold) bool {
				d, _ := src.Roster().By(h.Cause)
				return !(d.Removed && h.Cause.Body().Seq > d.Cut)
			})
		},
	}
	for name, twin := range twins {
		broke := false
		for seed := uint64(0); seed < 2000 && !broke; seed++ { // some need a long search
			broke = breaks(seed, 60, twin)
		}
		if !broke {
			t.Errorf("%q passed the test of the law, so the test proves nothing against it", name)
		}
	}
}

// Whatever the order and however often entries come, the state is the same, and a pack is
// open in it only if nothing uncleared stands against it.
func TestOrderAndDoublesDoNotMatter(t *testing.T) {
	opened := 0
	for seed := range seeds(120) {
		w := newWorld(seed)
		for i := range 60 {
			if i == 30 {
				w.goodLoad()
			}
			w.step()
		}
		all := w.set.All()
		other := NewSet(w.set.district)
		for _, i := range w.rng.Perm(len(all)) {
			other.Add(all[i], all[i], all[w.rng.IntN(i+1)])
		}
		for _, r := range append(w.packs, w.cycles...) {
			if Of(w.set, r).Hash() != Of(other, r).Hash() {
				t.Fatalf("seed %d: two states of one set", seed)
			}
			a, b := IsUsable(w.set, r), IsUsable(other, r)
			if a.Word != b.Word {
				t.Fatalf("seed %d: %v and %v", seed, a.Word, b.Word)
			}
			if a.Word == Usable {
				opened++
			}
		}
	}
	if opened == 0 {
		t.Error("no history opened a pack: the test proves nothing")
	}
}

func TestDigestAddsInAnyOrder(t *testing.T) {
	a, b := [32]byte{31: 0xff, 0: 1}, [32]byte{31: 2, 30: 0xff, 0: 0xff}
	if AddDigest(a, b) != AddDigest(b, a) || SubDigest(AddDigest(a, b), b) != a {
		t.Error("digest")
	}
}
