package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// An independent model of when a pack may be used, written from the rules' sentences and from nothing else of this package: it folds no noun and knows no Hold. It covers the kinds
// that schedules draw, for one site. Slow and short.

type reference struct {
	all     []entry.Verified
	site    entry.Stream
	granted map[entry.Stream]entry.ID
	cut     map[entry.Stream]uint64
	fork    map[entry.Stream]uint64
}

func newReference(all []entry.Verified, site entry.Stream) *reference {
	r := &reference{all: all, site: site, granted: map[entry.Stream]entry.ID{}, cut: map[entry.Stream]uint64{}, fork: forksOf(all)}
	for _, v := range all {
		var g model.DeviceGrant
		if v.Body().Kind == model.KindDeviceGrant && v.Body().Decode(&g) == nil {
			r.granted[entry.StreamOf(g.Key)] = v.ID()
		}
	}
	for _, v := range all {
		var g model.DeviceRemoved
		if v.Body().Kind == model.KindDeviceRemoved && v.Body().Decode(&g) == nil && (v.Body().Stream == site || r.known(v)) {
			if was, ok := r.cut[entry.Stream(g.Stream)]; !ok || uint64(g.Seq) < was {
				r.cut[entry.Stream(g.Stream)] = uint64(g.Seq)
			}
		}
	}
	return r
}

func (r *reference) known(v entry.Verified) bool { return r.granted[v.Body().Stream] != entry.ID{} }
func (r *reference) gone(v entry.Verified) bool {
	cut, removed := r.cut[v.Body().Stream]
	return removed && v.Body().Seq > cut
}

// lost: what was told by a device after it was taken out, or beside a copy of it: no plan and no verdict rests on it.
func (r *reference) lost(v entry.Verified) bool {
	f := r.fork[v.Body().Stream]
	return r.gone(v) || (f > 0 && v.Body().Seq >= f)
}

// good: the device is certified, was not removed when it wrote this, and no copy of it wrote beside it. What opens something names its certificate.
func (r *reference) good(v entry.Verified, key entry.ID) bool {
	f := r.fork[v.Body().Stream]
	relies := v.Body().Relies
	return r.known(v) && !r.gone(v) && (f == 0 || v.Body().Seq < f) && slices.Contains(relies, r.granted[v.Body().Stream]) && slices.Contains(relies, key)
}

func (r *reference) find(id entry.ID) (entry.Verified, bool) {
	for _, v := range r.all {
		if v.ID() == id {
			return v, true
		}
	}
	return entry.Verified{}, false
}

// stands: all that an entry relies on is here, by somebody known, and was not corrected in what a verdict rests on.
func (r *reference) stands(v entry.Verified) bool {
	for _, id := range v.Body().Relies {
		e, ok := r.find(id)
		if !ok || (!r.known(e) && e.Body().Stream != r.site && e.Body().Kind != model.KindSiteGrant) || r.corrected(id) {
			return false
		}
	}
	return true
}

// proves: no negative spore test that a clear rests on was read by somebody who was taken out since before it, or is told of otherwise by somebody whom the clear does not know of.
func (r *reference) proves(clear entry.Verified) bool {
	for _, id := range clear.Body().Relies {
		e, ok := r.find(id)
		var was model.SporeRead
		if !ok || e.Body().Kind != model.KindSporeRead || e.Body().Decode(&was) != nil || was.Grew {
			continue
		}
		if r.gone(e) || !r.known(e) {
			return false
		}
		for _, o := range r.all {
			var now model.SporeRead
			one := slices.ContainsFunc(o.Body().Refs(), func(x model.Ref) bool { return x.Noun == model.NounTest && slices.Contains(e.Body().Refs(), x) })
			if o.Body().Kind != model.KindSporeRead || !one || !r.known(o) || slices.Contains(clear.Body().Relies, o.ID()) {
				continue
			}
			if o.Body().Decode(&now) != nil || now.Grew || (was.ControlGrew && !now.ControlGrew) {
				return false
			}
		}
	}
	return true
}

// seen: of the strips and thermometers that a release rests on, one at least was told by somebody who was not taken out since before.
func (r *reference) seen(release entry.Verified) bool {
	told, good := false, false
	for _, id := range release.Body().Relies {
		if e, ok := r.find(id); ok && e.Body().Kind == model.KindWitness {
			told, good = true, good || !r.gone(e)
		}
	}
	return !told || good
}

func (r *reference) corrected(id entry.ID) bool {
	return slices.ContainsFunc(r.all, func(a entry.Verified) bool {
		return a.Body().Kind == model.KindAmended && r.known(a) && judges(a) && slices.Contains(a.Body().Replaces, id)
	})
}

// judges says whether a correction is of something that a verdict rests on.
func judges(a entry.Verified) bool {
	var x model.Amended
	return a.Body().Decode(&x) == nil && (x.Judged || x.Field != "fuel")
}

// against says whether an entry speaks against a noun, and whether anything can lift that.
func (r *reference) against(v entry.Verified, ref model.Ref) (bad, final bool) {
	var c model.CycleClosed
	var w model.Witness
	var s model.SporeRead
	var recall model.Recall
	switch b := v.Body(); b.Kind {
	case model.KindHold:
		return true, false
	case model.KindRecall: // but in a drill
		return b.Decode(&recall) != nil || (!recall.Drill && ref.Noun == model.NounCycle), false
	case model.KindReject:
		return true, true
	case model.KindCycleClosed:
		return b.Decode(&c) == nil && c.Outcome == model.Aborted, true
	case model.KindWitness:
		return b.Decode(&w) == nil && !w.Reached, false
	case model.KindSporeRead:
		return b.Decode(&s) == nil && s.Grew && ref.Noun != model.NounPack, false
	case model.KindCycleBegun, model.KindReadings:
		return (r.gone(v) || !r.known(v)) && ref.Noun == model.NounCycle, false // of a stranger only what somebody known corrected is asked for
	case model.KindAmended: // a correction of a bad fact leaves it bad
		if !judges(v) {
			return false, false
		}
		for _, id := range b.Replaces {
			o, ok := r.find(id)
			if !ok || o.Body().Kind == model.KindAmended {
				return true, false
			}
			if bad, _ := r.against(o, ref); bad {
				return true, false
			}
		}
	}
	return false, false
}

func (r *reference) lifted(v entry.Verified, ref model.Ref, key entry.ID) bool {
	return slices.ContainsFunc(r.all, func(c entry.Verified) bool {
		return c.Body().Kind == model.KindClear && r.good(c, key) && r.stands(c) && r.proves(c) && slices.Contains(c.Body().Refs(), ref) && slices.Contains(c.Body().Clears, entry.HoldID(v.ID(), ref))
	})
}

// usable: somebody who may has released it in knowledge of all that is here, and nothing stands against it or what it comes from.
func (r *reference) usable(pack model.Ref, key entry.ID) bool {
	from := []model.Ref{pack}
	var loads []entry.Verified
	for _, v := range r.all {
		if v.Body().Kind == model.KindCycleBegun && r.known(v) && slices.Contains(v.Body().Refs(), pack) {
			loads, from = append(loads, v), append(from, v.Body().Refs()[:2]...) // cycle and pot
		}
	}
	for _, v := range r.all {
		for _, ref := range v.Body().Refs() {
			if !r.known(v) || !slices.Contains(from, ref) {
				continue
			}
			bad, final := r.against(v, ref)
			if bad && (final || !r.lifted(v, ref, key)) {
				return false
			}
			if bad && v.Body().Kind == model.KindSporeRead && ref.Noun == model.NounSterilizer && !r.litLater(v, ref, loads, key) {
				return false
			}
		}
	}
	if slices.ContainsFunc(loads, func(load entry.Verified) bool { return !r.lookedBackOn(load, key) }) {
		return false
	}
	return slices.ContainsFunc(r.all, func(v entry.Verified) bool {
		var x model.Release
		if v.Body().Kind != model.KindRelease || !slices.Contains(v.Body().Refs(), pack) || !r.good(v, key) || !r.stands(v) || !r.seen(v) || v.Body().Decode(&x) != nil || x.Judged.Verdict != model.Shown {
			return false
		}
		return len(loads) > 0 && !slices.ContainsFunc(r.all, func(f entry.Verified) bool { // every fact of every load of it was known
			fact := f.Body().Kind == model.KindCycleBegun || f.Body().Kind == model.KindReadings
			return fact && r.known(f) && slices.ContainsFunc(f.Body().Refs(), func(x model.Ref) bool { return x.Noun == model.NounCycle && slices.Contains(from, x) }) && !slices.Contains(v.Body().Relies, f.ID())
		})
	})
}

// lookedBackOn: the load was lit in knowledge of how much its gauge shows too much, by somebody whose word counts; or one clear answers for everything that was found out since, in knowledge of all that was seen of the load.
func (r *reference) lookedBackOn(load entry.Verified, key entry.ID) bool {
	cycle := load.Body().Refs()[0]
	var found []entry.ID
	for _, w := range r.all {
		var x model.Compared
		late := w.Body().Kind == model.KindCompared && r.known(w) && !slices.Contains(load.Body().Relies, w.ID())
		if late && (w.Body().Decode(&x) != nil || x.WorstPa > 1000) {
			found = append(found, entry.HoldID(w.ID(), cycle))
		}
		var dial model.GaugeLooks // loads here were planned by a dial without a unit
		if w.Body().Kind == model.KindGauge && r.known(w) && !slices.Contains(load.Body().Relies, w.ID()) && (w.Body().Decode(&dial) != nil || (dial.OverPa > 0 && dial.Unit != "")) {
			found = append(found, entry.HoldID(w.ID(), cycle))
		}
		kind := w.Body().Kind
		planned := (kind == model.KindCompared || kind == model.KindGauge) && r.known(w) && r.lost(w) && slices.Contains(load.Body().Relies, w.ID()) // its plan counts on somebody whose word counts no more
		if planned && !slices.ContainsFunc(r.all, func(o entry.Verified) bool {
			return o.Body().Kind == kind && !r.lost(o) && slices.Contains(load.Body().Relies, o.ID()) && slices.Contains(o.Body().Replaces, w.ID())
		}) {
			found = append(found, entry.HoldID(w.ID(), cycle))
		}
	}
	return len(found) == 0 || slices.ContainsFunc(r.all, func(c entry.Verified) bool {
		b := c.Body()
		if b.Kind != model.KindClear || !r.good(c, key) || !r.stands(c) || !r.proves(c) || !slices.Contains(b.Refs(), cycle) || slices.ContainsFunc(found, func(id entry.ID) bool { return !slices.Contains(b.Clears, id) }) {
			return false
		}
		if slices.ContainsFunc(r.all, func(f entry.Verified) bool { // it was judged by somebody whose word counts no more
			k := f.Body().Kind
			return (k == model.KindCompared || k == model.KindGauge) && slices.Contains(b.Relies, f.ID()) && r.lost(f) && !slices.Contains(found, entry.HoldID(f.ID(), cycle))
		}) {
			return false
		}
		return !slices.ContainsFunc(r.all, func(f entry.Verified) bool {
			fact := f.Body().Kind == model.KindCycleBegun || f.Body().Kind == model.KindReadings
			return fact && r.known(f) && slices.Contains(f.Body().Refs(), cycle) && !slices.Contains(b.Relies, f.ID())
		})
	})
}

// litLater: each load was lit in knowledge of one that brought the pot back, or somebody freed it by name from each. (Clears in these schedules name no load that they leave free.)
func (r *reference) litLater(grew entry.Verified, pot model.Ref, loads []entry.Verified, key entry.ID) bool {
	var back []entry.Verified
	for _, c := range r.all {
		if c.Body().Kind == model.KindClear && r.good(c, key) && r.stands(c) && r.proves(c) && slices.Contains(c.Body().Refs(), pot) && slices.Contains(c.Body().Clears, entry.HoldID(grew.ID(), pot)) {
			back = append(back, c)
		}
	}
	return !slices.ContainsFunc(loads, func(load entry.Verified) bool {
		knew := slices.ContainsFunc(back, func(c entry.Verified) bool { return slices.Contains(load.Body().Relies, c.ID()) })
		return !knew && slices.ContainsFunc(back, func(c entry.Verified) bool { return !r.lifted(c, load.Body().Refs()[0], key) })
	})
}

// forksOf are the streams with two entries of one number.
func forksOf(all []entry.Verified) map[entry.Stream]uint64 {
	type at struct {
		s entry.Stream
		n uint64
	}
	seen, out := map[at]entry.ID{}, map[entry.Stream]uint64{}
	for _, v := range all {
		k := at{v.Body().Stream, v.Body().Seq}
		if id, ok := seen[k]; ok && id != v.ID() {
			if f := out[k.s]; f == 0 || k.n < f {
				out[k.s] = k.n
			}
		}
		seen[k] = v.ID()
	}
	return out
}
