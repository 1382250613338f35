package work_test

import (
	"strings"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

// A policy that shuts the way arrives late: the release does not count any more, and nobody is told before the tables are made anew.
func TestAttackPolicyOffArrivesLate(t *testing.T) {
	b := desk(t)
	a := b.manager(81)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "s"}))
	a.Lamport = b.own().Lamport + 1
	id, g := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, LooksAway: true})
	if !g.Override {
		t.Fatal(stops(g))
	}
	b.check(b.d.Release(id, "birth"))
	if w := word(b, id); w != register.Usable {
		t.Fatal(w)
	}
	b.put(a, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, Source: "s"}})
	w := word(b, id)
	before := b.line("to-confirm")
	b.check(b.d.Store.RebuildViews())
	after := b.line("to-confirm")
	if w != register.Usable && before != after {
		t.Errorf("pack %s; to-confirm on Today: %v; after the tables were made anew: %v", w, before, after)
	}
}

func TestAttackOfficerTakenOver(t *testing.T) {
	x, b, c := twoClinics(t)
	o := x.office
	who := o.d.Acting()
	c.put(c.own(), entry.Draft{Kind: model.KindPerson, Targets: []model.Ref{{Noun: model.NounPerson, ID: who}}, Payload: model.Person{Name: "nobody"}})
	x.carry(c, o)
	if !o.d.Person(who).May(model.RoleInCharge) {
		ps, _ := o.d.People()
		t.Errorf("C described the officer: at the office %+v; tiles %d; add a person: %v", o.d.Person(who), len(ps), code(o.d.SetPolicy(model.Policy{Code: model.PolicyVent, On: true, Value: 12, Source: "s"})))
	}
	_ = b
}

// After C answered that the pack is set aside, B's line names no place.
func TestAttackAnsweredStillOut(t *testing.T) {
	x, b, c, packs, load := neighbours(t)
	b.check(b.d.Stop(load, "spores grew"))
	x.round(b, c)
	c.check(c.d.SetAside(packs[0]))
	x.round(c, b)
	if l, ok := lineOf(t, b.bench, "stopped-out"); ok {
		t.Logf("%q", l.Args)
		if strings.HasSuffix(l.Args[1], ": ") {
			t.Error("the line names no place")
		}
	}
}

// A load whose targets name this pot and whose payload another: not among those of the bad time.
func TestAttackBadTimePayloadNamesAnotherPot(t *testing.T) {
	b := desk(t)
	b.sterile(1)
	cyc, pk := b.d.NewID(), b.d.NewID()
	pot := b.pot()
	f := b.plan().Frozen
	a := b.own()
	v := model.CycleBegun{Number: 2, Sterilizer: model.ID{42}, Gauge: pot.Looks.Gauge, Item: model.Wrapped, TestPack: true, Plan: f, Source: model.Live, Begun: b.clk.Wall.UnixMilli(), Packs: []model.LoadPack{{ID: pk, Label: "Q1", Tape: true, Strip: true}}}
	e := b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{cref(cyc), {Noun: model.NounSterilizer, ID: pot.ID}, pref(pk)}, Payload: v})
	var relies []entry.ID
	_ = b.d.Store.Read(func(r store.Reader) {
		dev, _ := r.Roster().Device(a.Stream)
		relies = append(relies, dev.Grants[0].Device)
		relies = append(relies, dev.Grants[0].Site...)
	})
	b.put(a, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{cref(cyc), pref(pk)}, Relies: append(relies, e.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	b.check(b.d.Close())
	b.open()
	u, _ := b.d.Usable(pk)
	t.Log(u.Word)
	_, c := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(c, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	u, _ = b.d.Usable(pk)
	t.Log("after growth", u.Word)
	b.zback()
	if u, _ := b.d.Usable(pk); u.Word == register.Usable {
		t.Errorf("a load of the bad time is %s after the pot came back", u.Word)
	}
}

// Two devices of B, and a trial between: the second growth was written where the first was not known.
func TestAttackHouseOfPackRandom(t *testing.T) {
	x, b, c, packs, _ := neighbours(t)
	p, err := b.d.Pack(packs[1])
	b.check(err)
	c.put(c.own(), entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{pref(packs[1])}, Payload: *p.Made})
	x.round(c, b)
	on, off := 0, 0
	for range 20 {
		b.check(b.d.Store.RebuildViews())
		sh, err := b.d.OnShelf(50)
		b.check(err)
		found := false
		for _, s := range sh {
			found = found || s.ID == packs[1]
		}
		if found {
			on++
		} else {
			off++
		}
	}
	if on > 0 && off > 0 || off > 0 {
		t.Errorf("B's own pack stands on B's shelf in %d of %d", on, on+off)
	}
}

var _ = work.CarryNew
