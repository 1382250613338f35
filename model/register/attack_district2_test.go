package register

import (
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// office writes a reading on C's load before C accepted; C's release knew it.
func TestSecondAttackAcceptedLiftsADoubt(t *testing.T) {
	for _, how := range []string{"reading", "foreign pack made"} {
		x := newAtk(t, false)
		l := x.load(x.cd, 1, true)
		var id entry.ID
		if how == "reading" {
			id = x.act(x.od, entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{l.cycle}, Payload: model.Readings{}}).ID()
		} else {
			id = x.act(x.od, entry.Draft{Kind: model.KindStep, Targets: []model.Ref{l.cycle}, Payload: model.Step{Code: model.StepLit}}).ID()
		}
		x.release(x.cd, l, id)
		before := x.words(l.p1)
		x.act(x.cr, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: x.joinC[:], Compared: true}})
		x.lawful("accepted "+how, l.p1, before)
	}
}

// a release that overrides by the office's policy, before the office speaks.
func TestSecondAttackAcceptedOpensAnOverride(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.cd, 1, true)
	on := x.act(x.od, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "s"}})
	x.act(x.cd, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1}, Relies: append(slices.Clone(x.grants[x.cd.Stream]), l.begun.ID(), on.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.NotKnown}, Override: true, Reason: "r"}})
	before := x.words(l.p1)
	x.act(x.cr, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: x.joinC[:], Compared: true}})
	x.lawful("accepted", l.p1, before)
}

// B moves on to another district: a policy of the old office that closed the override no longer counts.
func TestSecondAttackSecondDistrictReopensAnOverride(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	on := x.act(x.d1, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "s"}})
	x.act(x.od, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: false, Source: "s"}})
	x.act(x.d1, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1}, Relies: append(slices.Clone(x.grants[x.d1.Stream]), l.begun.ID(), on.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.NotKnown}, Override: true, Reason: "r"}})
	before := x.words(l.p1)
	y := aroot(150)
	id := entry.ID{5}
	x.act(x.br, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: y.District[:], Joined: id[:], Compared: false}})
	x.lawful("B accepts another district", l.p1, before)
}

// the same by a rogue joining of an office laptop: a contested site drops the office's policy at B
func TestSecondAttackContestedDropsTheOfficesNo(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	on := x.act(x.d1, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "s"}})
	x.act(x.od, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: false, Source: "s"}})
	x.act(x.d1, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1}, Relies: append(slices.Clone(x.grants[x.d1.Stream]), l.begun.ID(), on.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.NotKnown}, Override: true, Reason: "r"}})
	before := x.words(l.p1)
	evil := aroot(200)
	x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: siteB, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	x.lawful("another root is let in for B", l.p1, before)
}

// a contested site: a claim of C on B's pot falls away, so a clear counts at the office
func TestSecondAttackContestedGivesAHouseBack(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	x.act(x.cd, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "mine"}})
	h := x.hold(x.cd, l.pot)
	var found entry.ID
	for _, v := range x.all {
		if v.Body().Kind == model.KindSterilizer && v.Body().Stream == x.d1.Stream {
			found = v.ID()
		}
	}
	x.act(x.d1, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.pot}, Clears: []entry.ID{entry.HoldID(h.ID(), l.pot)}, Relies: append(slices.Clone(x.grants[x.d1.Stream]), h.ID(), found), Payload: model.Clear{Reason: "x"}})
	before := x.words(l.p1)
	evil := aroot(200)
	x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: siteC, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	x.lawful("another root is let in for C", l.p1, before)
}

// a removed device's bad news
func TestSecondAttackRemovalHidesBadNews(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, false)
	p := l.p1
	x.act(x.d1, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{p}, Payload: model.PackMade{Label: "L", Present: 5, Listed: 5}})
	x.act(x.d1, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{p}, Payload: model.PackMoved{What: model.MoveStored, To: "A"}})
	cut := x.d2.Seq
	x.act(x.d2, entry.Draft{Kind: model.KindShelfCount, Targets: []model.Ref{p}, Payload: model.ShelfCounted{Place: "A", Missing: []model.ID{p.ID}}})
	x.act(x.d2, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{p}, Payload: model.SetCounted{Pack: p.ID, Present: 3, Listed: 3}})
	was, _ := PackOf(x.set(x.br), p.ID)
	x.act(x.bk, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.d2.Stream[:], Seq: int64(cut), Reason: "lost"}})
	now, _ := PackOf(x.set(x.br), p.ID)
	if was.NotFound && !now.NotFound {
		t.Error("the pack was not found at the count; by a removal it was never missed")
	}
	if was.Missing() && !now.Missing() {
		t.Error("two pieces did not come back; by a removal nothing is missing")
	}
}

// a look at the packs by another clinic's or a removed device
func TestSecondAttackForeignLook(t *testing.T) {
	for _, who := range []string{"C", "removed"} {
		x := newAtk(t, true)
		l := x.load(x.d1, 1, true)
		by := x.cd
		if who == "removed" {
			by = x.d2
			x.act(x.bk, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.d2.Stream[:], Seq: int64(x.d2.Seq), Reason: "lost"}})
		}
		x.act(by, entry.Draft{Kind: model.KindUnloaded, Targets: []model.Ref{l.cycle, l.p1, l.p2}, Payload: model.Unloaded{Cool: true, Checks: []model.PackCheck{{Pack: l.p1.ID, Dry: true, TapeOK: true, WrapOK: true}}}})
		c, _ := CycleOf(x.set(x.br), l.cycle.ID)
		if c.Unloaded != nil {
			t.Errorf("%s looked at the packs of B's load: %+v; holds %d", who, c.Unloaded, len(c.State.Holds))
		}
	}
}

// who was removed removes everybody
func TestSecondAttackRemovedLaptopRemovesAll(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	x.act(x.xk, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.od.Stream[:], Seq: int64(x.od.Seq), Reason: "stolen"}})
	before := x.words(l.p1)
	x.act(x.od, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.d1.Stream[:], Seq: 0}})
	now := x.words(l.p1)
	if before[0] == Usable && now[0] != Usable {
		t.Errorf("the office's laptop, stolen and removed, removes the devices of B: %v then %v", before, now)
	}
}

// after its removal, the office's laptop overrides the joining that is shown
func TestSecondAttackRemovedLaptopMovesTheJoining(t *testing.T) {
	x := newAtk(t, true)
	x.act(x.xk, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.od.Stream[:], Seq: int64(x.od.Seq), Reason: "stolen"}})
	a, _ := x.set(x.xr).Roster().Site(siteB)
	x.low(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: x.br.District[:], Site: siteB, Name: "evil", Code: "ZZZ", Request: make([]byte, 32)}})
	b, _ := x.set(x.xr).Roster().Site(siteB)
	if a.Joined != b.Joined {
		t.Errorf("Joined moved to the removed laptop's; name %q code %q", b.Name, b.Code)
	}
}

// a device of a site that is not the office, under the office's root, with the cap that its own site key gave it
func TestSecondAttackNotTheOfficeLetsIn(t *testing.T) {
	x := newAtk(t, true)
	dk, dd := newAuthor(170, x.xr.District), newAuthor(171, x.xr.District)
	x.place(x.xr, dk, model.ID{0xD0}, false, acaps|model.CapDistrict, dd)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	evil := aroot(200)
	x.act(dd, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: model.ID{0xE0}, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	r := x.set(x.xr).Roster()
	if s, ok := r.Site(model.ID{0xE0}); ok || r.Family(evil.District) {
		t.Errorf("a device of a clinic lets a root in: %+v", s.ID)
	}
	before := x.words(l.p1)
	x.act(dd, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: siteB, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	if now := x.words(l.p1); now != before {
		t.Errorf("and contests B: %v then %v", before, now)
	}
}

// C's device describes B's pot, and lifts what grew in it: in C's register, where B's packs lie.
func TestSecondAttackOwnHouseLiftsAGrowth(t *testing.T) {
	for _, by := range []string{"nobody describes", "C describes"} {
		x := newAtk(t, true)
		l := x.load(x.d1, 1, true)
		x.release(x.d1, l)
		g := x.act(x.d1, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{l.pot}, Payload: model.SporeRead{Grew: true}})
		relies := append(slices.Clone(x.grants[x.cd.Stream]), g.ID())
		if by == "C describes" {
			relies = append(relies, x.act(x.cd, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "mine"}}).ID())
		}
		x.act(x.cd, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.pot}, Clears: []entry.ID{entry.HoldID(g.ID(), l.pot)}, Relies: relies,
			Payload: model.Clear{Reason: "x", Knew: []model.KnownUpTo{{Stream: x.d1.Stream[:], Seq: 1000}}}})
		now := x.words(l.p1)
		t.Log(by, now)
		if slices.Contains(now[:], Usable) {
			t.Errorf("%s: spores grew in B's pot, C lifts it; B, office, C: %v", by, now)
		}
	}
}

// a whole pack opened by C: made, loaded before B's load is known to C
func TestSecondAttackOwnHouseLiftsAHoldOnAPack(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	h := x.hold(x.d1, l.p1)
	m := x.act(x.cd, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{l.p1}, Payload: model.PackMade{Label: "L", Present: 1, Listed: 1}})
	var ids []entry.ID
	for _, y := range Of(x.set(x.cr), l.p1).Holds {
		ids = append(ids, y.ID)
	}
	x.act(x.cd, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.p1}, Clears: ids, Relies: append(slices.Clone(x.grants[x.cd.Stream]), m.ID(), h.ID()), Payload: model.Clear{Reason: "x"}})
	x.release(x.cd, l)
	now := x.words(l.p1)
	t.Log(now)
	if slices.Contains(now[:], Usable) {
		t.Errorf("%v", now)
	}
}
