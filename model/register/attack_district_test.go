package register

import (
	"bytes"
	"crypto/ed25519"
	"slices"
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// atk is a district: office X, clinics B and C, each with a root of its own.
type atk struct {
	t              *testing.T
	xr, xk, od     *entry.Author
	br, bk, d1, d2 *entry.Author
	cr, ck, cd     *entry.Author
	all            []entry.Verified
	grants         map[entry.Stream][]entry.ID
	joinB, joinC   entry.ID
	at             int64
}

func akey(n byte) ed25519.PrivateKey { return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)) }

func aroot(n byte) *entry.Author {
	k := akey(n)
	return entry.NewAuthor(k, entry.DistrictOf(k.Public().(ed25519.PublicKey)))
}

var siteX, siteB, siteC = model.ID{0xA0}, model.ID{0xB0}, model.ID{0xC0}

const acaps = model.CapRecord | model.CapRelease | model.CapManage

func (x *atk) act(a *entry.Author, d entry.Draft) entry.Verified {
	x.at++
	if d.Person.IsZero() {
		d.Person = model.ID{1}
	}
	if a.Lamport != 0 || a.Seq == 0 {
		a.Lamport = max(a.Lamport, uint64(x.at)+100)
	}
	v, err := a.Sign(d, model.Moment{Wall: time.UnixMilli(x.at)}, model.ClockGood)
	if err != nil {
		x.t.Fatal(err)
	}
	a.Advance(v)
	x.all = append(x.all, v)
	return v
}

// low signs with a counter of one.
func (x *atk) low(a *entry.Author, d entry.Draft) entry.Verified {
	d.Person = model.ID{1}
	keep := a.Lamport
	a.Lamport = 0
	v, err := a.Sign(d, model.Moment{Wall: time.UnixMilli(x.at)}, model.ClockGood)
	if err != nil {
		x.t.Fatal(err)
	}
	a.Advance(v)
	a.Lamport = keep
	x.all = append(x.all, v)
	return v
}

func (x *atk) place(root, key *entry.Author, site model.ID, office bool, caps model.Caps, devs ...*entry.Author) {
	x.act(root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "x"}})
	sg := x.act(root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: site, Key: key.Key(), Office: office}})
	for _, d := range devs {
		g := x.act(key, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: site, Key: d.Key(), Letter: "A", Caps: caps}})
		x.grants[d.Stream] = []entry.ID{g.ID(), sg.ID()}
	}
}

func newAtk(t *testing.T, compared bool) *atk {
	x := &atk{t: t, xr: aroot(101), br: aroot(111), cr: aroot(121), grants: map[entry.Stream][]entry.ID{}}
	x.xk, x.od = newAuthor(102, x.xr.District), newAuthor(103, x.xr.District)
	x.bk, x.d1, x.d2 = newAuthor(112, x.br.District), newAuthor(113, x.br.District), newAuthor(114, x.br.District)
	x.ck, x.cd = newAuthor(122, x.cr.District), newAuthor(123, x.cr.District)
	x.place(x.xr, x.xk, siteX, true, acaps|model.CapDistrict, x.od)
	x.place(x.br, x.bk, siteB, false, acaps, x.d1, x.d2)
	x.place(x.cr, x.ck, siteC, false, acaps, x.cd)
	join := func(r *entry.Author, site model.ID, cmp bool) entry.ID {
		j := x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: r.District[:], Site: site, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
		id := j.ID()
		x.act(r, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: id[:], Compared: cmp}})
		return id
	}
	x.joinB = join(x.br, siteB, true)
	x.joinC = join(x.cr, siteC, compared)
	return x
}

func (x *atk) set(own *entry.Author) *Set {
	s := NewSet(own.District)
	s.Add(x.all...)
	return s
}

type aload struct {
	cycle, pot, p1, p2 model.Ref
	begun              entry.Verified
}

// load begins a cycle by a device, of a pot that it describes.
func (x *atk) load(d *entry.Author, n byte, made bool) (l aload) {
	l.cycle, l.pot = model.Ref{Noun: model.NounCycle, ID: model.ID{n, 1}}, model.Ref{Noun: model.NounSterilizer, ID: model.ID{n, 2}}
	l.p1, l.p2 = model.Ref{Noun: model.NounPack, ID: model.ID{n, 3}}, model.Ref{Noun: model.NounPack, ID: model.ID{n, 4}}
	x.act(d, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "pot"}})
	if made {
		for _, p := range []model.Ref{l.p1, l.p2} {
			x.act(d, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{p}, Payload: model.PackMade{Label: "L", Present: 1, Listed: 1}})
		}
	}
	l.begun = x.act(d, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{l.cycle, l.pot, l.p1, l.p2}, Payload: model.CycleBegun{Number: int64(n), Sterilizer: l.pot.ID, Source: model.Live}})
	return l
}

func (x *atk) release(d *entry.Author, l aload, more ...entry.ID) entry.Verified {
	relies := append(slices.Clone(x.grants[d.Stream]), l.begun.ID())
	return x.act(d, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1, l.p2}, Relies: append(relies, more...), Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
}

func (x *atk) hold(d *entry.Author, on model.Ref) entry.Verified {
	return x.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{on}, Payload: model.Hold{Code: "stopped", Reason: "wet"}})
}

func (x *atk) words(p model.Ref) (out [3]Word) {
	for i, own := range []*entry.Author{x.br, x.xr, x.cr} {
		out[i] = IsUsable(x.set(own), p).Word
	}
	return out
}

// law: what an entry other than a release or clear did.
func (x *atk) lawful(what string, p model.Ref, before [3]Word) {
	x.t.Helper()
	now := x.words(p)
	for i, who := range []string{"B", "office", "C"} {
		if before[i] != Usable && now[i] == Usable {
			x.t.Errorf("%s: the pack was %s and is %s in the register of %s", what, before[i], now[i], who)
		}
	}
	x.t.Log(what, before, now)
}

func TestAttackRogueJoinedOustsAClinic(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.cd, 1, true)
	x.release(x.cd, l)
	x.hold(x.d1, l.cycle) // B had a pack of C's load, and stops it
	x.act(x.xk, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: x.od.Stream[:], Seq: int64(x.od.Seq), Reason: "stolen"}})
	before := x.words(l.p1)
	evil, ek := aroot(200), newAuthor(201, aroot(200).District)
	x.act(evil, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteB, Key: ek.Key()}})
	x.low(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: siteB, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	x.lawful("a stolen, removed office laptop lets a root of its own join for B's site, with a low counter", l.p1, before)
	// and what the same entries say in two registers
	b, o := Of(x.set(x.br), l.cycle).Hash(), Of(x.set(x.xr), l.cycle).Hash()
	if b != o {
		t.Errorf("the same entries, another state at B and at the office")
	}
}

func TestAttackForeignGrantMovesTheHouse(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	h := x.hold(x.d2, l.cycle)
	before := x.words(l.p1)
	x.low(x.ck, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteC, Key: x.d1.Key(), Letter: "Z", Caps: acaps}})
	x.lawful("C's site key grants B's device", l.p1, before)
	_ = h
	for _, ref := range []model.Ref{l.cycle, l.p1} {
		var ids []entry.ID
		for _, h := range Of(x.set(x.br), ref).Holds {
			ids = append(ids, h.ID)
		}
		x.act(x.cd, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{ref}, Clears: ids, Relies: slices.Clone(x.grants[x.cd.Stream]), Payload: model.Clear{Reason: "x"}})
	}
	x.release(x.cd, l)
	now := x.words(l.p1)
	if slices.Contains(now[:], Usable) {
		t.Errorf("B's load, stopped by B, cleared and released by C's device after C's site key named B's device: B, office, C: %v", now)
	}
	if site, ok := House(x.set(x.br), l.pot); ok && site != siteB {
		t.Errorf("B's pot is in the house of %v", site[:1])
	}
}

func TestAttackForeignGrantUndoesAPolicy(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.d2, 1, true)
	on := x.act(x.d2, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "s"}})
	x.act(x.d1, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: false, Source: "s"}})
	x.act(x.d2, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1}, Relies: append(slices.Clone(x.grants[x.d2.Stream]), l.begun.ID(), on.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.NotKnown}, Override: true, Reason: "r"}})
	before := x.words(l.p1)
	x.low(x.ck, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteC, Key: x.d1.Key(), Letter: "Z", Caps: acaps}})
	x.lawful("C's site key grants B's device that stated that nothing not known is released", l.p1, before)
}

func TestAttackForeignReleaseOfAFailedLoad(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.d1, 1, true) // its readings failed; nobody released or rejected it yet
	before := x.words(l.p1)
	m := aload{cycle: model.Ref{Noun: model.NounCycle, ID: model.ID{9, 1}}, pot: model.Ref{Noun: model.NounSterilizer, ID: model.ID{9, 2}}, p1: l.p1, p2: l.p2}
	x.act(x.cd, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{m.pot}, Payload: model.Sterilizer{Name: "pot"}})
	m.begun = x.act(x.cd, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{m.cycle, m.pot, l.p1, l.p2}, Payload: model.CycleBegun{Number: 9, Sterilizer: m.pot.ID, Source: model.Live}})
	x.release(x.cd, m, l.begun.ID())
	now := x.words(l.p1)
	t.Log(before, now)
	if slices.Contains(now[:], Usable) {
		t.Errorf("a pack of B, in a load of B that nobody at B released, is opened by a release of C's device (C never proven): B, office, C: %v", now)
	}
}

func TestAttackSecondDistrictForgetsHolds(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	x.hold(x.cd, l.cycle) // C has a pack of it, and its strip failed
	before := x.words(l.p1)
	y := aroot(150)
	id := entry.ID{5}
	x.act(x.br, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: y.District[:], Joined: id[:], Compared: true}})
	x.lawful("B accepts another district", l.p1, before)
	x = newAtk(t, true)
	l = x.load(x.d1, 1, true)
	x.release(x.d1, l)
	x.hold(x.od, l.cycle)
	before = x.words(l.p1)
	x.act(x.br, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.br.District[:], Joined: id[:], Compared: true}})
	x.lawful("B's root accepts itself", l.p1, before)
}

func TestAttackPackMadeElsewhere(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.d1, 1, false) // a pack that was never made here: its number was written down with the load
	x.release(x.d1, l)
	h := x.hold(x.d2, l.p1)
	x.act(x.cd, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{l.p1}, Payload: model.PackMade{Label: "L", Present: 1, Listed: 1}})
	x.act(x.cd, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.p1}, Clears: []entry.ID{entry.HoldID(h.ID(), l.p1)}, Relies: append(slices.Clone(x.grants[x.cd.Stream]), h.ID()), Payload: model.Clear{Reason: "x"}})
	now := x.words(l.p1)
	if slices.Contains(now[:], Usable) {
		t.Errorf("C says that it made B's pack and lifts B's stop on it: %v", now)
	}
}

func TestAttackForeignSiteGrantNamesADevice(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.d2, 1, true)
	x.release(x.d2, l)
	x.hold(x.d1, l.cycle)
	before := x.words(l.p1)
	x.act(x.cr, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteC, Key: x.d1.Key()}})
	x.lawful("C's root names B's device as the key of its site", l.p1, before)
	x.act(x.cr, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteC, Key: x.bk.Key()}})
	x.lawful("C's root names B's site key as the key of its site", l.p1, before)
	x.act(x.xr, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteB, Key: x.ck.Key()}})
	x.lawful("the office's root grants B's site", l.p1, before)
}

func TestAttackOfficeClearBeforeAcceptance(t *testing.T) {
	x := newAtk(t, false)
	l := x.load(x.cd, 1, true)
	x.release(x.cd, l)
	h := x.hold(x.cd, l.cycle)
	x.act(x.od, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.cycle}, Clears: []entry.ID{entry.HoldID(h.ID(), l.cycle)}, Relies: append(slices.Clone(x.grants[x.od.Stream]), h.ID()), Payload: model.Clear{Reason: "x"}})
	before := x.words(l.p1)
	x.act(x.cr, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: x.joinC[:], Compared: true}})
	x.lawful("C accepts: a clear of the office from before counts", l.p1, before)
}

func TestAttackAskedTwice(t *testing.T) {
	x := newAtk(t, true)
	cr2 := aroot(160)
	k, d := newAuthor(161, cr2.District), newAuthor(162, cr2.District)
	site := model.ID{0xD0}
	x.place(cr2, k, site, false, acaps, d)
	var id entry.ID
	for range 2 {
		id = x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: cr2.District[:], Site: site, Name: "n", Code: "AAA", Request: make([]byte, 32)}}).ID()
	}
	x.act(cr2, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: id[:], Compared: true}})
	if s, _ := x.set(x.xr).Roster().Site(site); !s.Accepted {
		t.Errorf("taken in twice, accepted the second: %+v", s)
	}
}

func TestAttackPersonTakenOver(t *testing.T) {
	x := newAtk(t, true)
	p := model.Ref{Noun: model.NounPerson, ID: model.ID{77}}
	x.act(x.d1, entry.Draft{Kind: model.KindPerson, Targets: []model.Ref{p}, Payload: model.Person{Name: "N", Roles: []model.Role{model.RoleInCharge}}})
	x.act(x.cd, entry.Draft{Kind: model.KindPerson, Targets: []model.Ref{p}, Payload: model.Person{Name: "Z"}})
	if h, ok := House(x.set(x.br), p); !ok {
		t.Errorf("B's person in charge has no house any more: %v", h)
	}
	if q, _, ok := Described[model.Person](Of(x.set(x.br), p), model.KindPerson); !ok || q.Name != "N" {
		t.Errorf("%+v %v", q, ok)
	}
	q := model.Ref{Noun: model.NounReference, ID: model.ID{78}}
	x.act(x.od, entry.Draft{Kind: model.KindReference, Targets: []model.Ref{q}, Payload: model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 6000, Due: 1}})
	x.act(x.cd, entry.Draft{Kind: model.KindReference, Targets: []model.Ref{q}, Payload: model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 50, Due: 1 << 50}})
	if r, _, ok := Described[model.Reference](Of(x.set(x.br), q), model.KindReference); ok && r.ErrorMilli != 6000 {
		t.Errorf("the office's reference is restated by C, at B: %+v", r)
	}
	pot := model.Ref{Noun: model.NounSterilizer, ID: model.ID{79}}
	x.act(x.d1, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{pot}, Payload: model.Sterilizer{Name: "mine"}})
	x.act(x.cd, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{pot}, Payload: model.Sterilizer{Name: "Z"}})
	if _, _, ok := Described[model.Sterilizer](Of(x.set(x.br), pot), model.KindSterilizer); !ok {
		t.Error("C describes B's pot: B has no pot any more")
	}
}
