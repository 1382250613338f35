package work_test

import (
	"crypto/ed25519"
	"os"
	"path/filepath"

	"mvuke/app/home"

	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
)

var _ = assess.Set

// neighbours: B sent a pack to C, so that each sees the other.
func neighbours(t *testing.T) (x *districtOf, b, c house, packs []model.ID, load model.ID) {
	x, b, c = twoClinics(t)
	packs, load = b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	x.round(b, c)
	return
}

// Readings by a device of another clinic fill the gap of a load that nobody watched.
func TestAttackForeignReadings(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	id, g := b.cycle(demo.Burn{Packs: 1, First: 50, Strip: true, LooksAway: true})
	t.Log(g.Result.Verdict, g.Result.Reasons)
	before := g.Result.Verdict
	x.round(b, c)
	cy, err := c.d.Cycle(id)
	c.check(err)
	var list []model.Reading
	last := cy.Readings[len(cy.Readings)-1].At
	for at := cy.Readings[0].At + 30_000; at < last; at += 2 * 60_000 {
		list = append(list, model.Reading{At: at, NeedleMilli: cy.Begun.Plan.MarkMilli + 2000, Answer: model.Stayed})
	}
	c.put(c.own(), entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(id)}, Payload: model.Readings{Source: model.Live, List: list}})
	x.round(c, b)
	g, err = b.d.Gate(id)
	b.check(err)
	t.Log(g.Result.Verdict, g.Result.Reasons, stops(g))
	if before != model.Shown && g.Result.Verdict == model.Shown {
		t.Errorf("%s at B, and by readings of C's device %s", before, g.Result.Verdict)
		if err := b.d.Release(id, ""); err == nil {
			t.Errorf("released: %s", word(b.bench, id))
		}
	}
}

// A witness, an unloading by a device of another clinic.
func TestAttackForeignWitness(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 50})
	b.check(err)
	cyc, _ := b.d.Cycle(id)
	checks, err := demo.GoodChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	g, err := b.d.Gate(id)
	b.check(err)
	t.Log(cyc.Witness, stops(g))
	if !slices.Contains(stops(g), "no-witness") {
		t.Skip("there is a witness:", stops(g))
	}
	x.round(b, c)
	c.put(c.own(), entry.Draft{Kind: model.KindWitness, Targets: []model.Ref{cref(id)}, Payload: model.Witness{Kind: model.WitnessStrip, Reached: true}})
	x.round(c, b)
	if err := b.d.Release(id, ""); err == nil {
		t.Errorf("released by a strip that C says to have seen at B: %s", word(b.bench, id))
	}
}

// C's device copies the first entry of a cycle of B that is stopped: B's Today loses its line.
func TestAttackForeignBeginningHidesALoad(t *testing.T) {
	x, b, c, packs, load := neighbours(t)
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	b.check(b.d.Stop(load, "wet"))
	if _, ok := lineOf(t, b.bench, "held"); !ok {
		t.Fatal("no line")
	}
	x.round(b, c)
	cy, err := c.d.Cycle(load)
	c.check(err)
	c.put(c.own(), entry.Draft{Kind: model.KindCycleBegun, Targets: cy.Entry.Body().Refs(), Payload: cy.Begun})
	x.round(c, b)
	gone := 0
	for range 20 {
		b.check(b.d.Store.RebuildViews())
		_, held := lineOf(t, b.bench, "held")
		_, confirm := lineOf(t, b.bench, "to-confirm")
		if !held && !confirm {
			gone++
		}
	}
	if gone > 0 {
		t.Errorf("the stopped load is not on B's Today in %d of 20 times that the tables were made", gone)
	}
	if err := b.d.ClearHold(cref(load), work.HoldStopped, "looked at"); err != nil {
		t.Errorf("%v", err)
	}
	st, _ := b.d.Cycle(load)
	for _, h := range st.State.Holds {
		if h.Open() && h.Code == work.HoldStopped {
			t.Log("B can no longer lift its own stop (Together still holds?)")
		}
	}
}

// C describes B's pot, and B's person in charge.
func TestAttackForeignDescriptionsLockOut(t *testing.T) {
	x, b, c, _, load := neighbours(t)
	pot := b.pot()
	who := b.d.Acting()
	_, err := b.d.ReadSpore(b.spore(load, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	if !b.line("pot-out") {
		t.Fatal("pot-out")
	}
	x.round(b, c)
	c.put(c.own(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: pot.Looks})
	x.round(c, b)
	if n := len(b.place().Pots); n != 1 {
		t.Errorf("C described B's pot: B has %d pots; pot-out on Today: %v", n, b.line("pot-out"))
	}
	c.put(c.own(), entry.Draft{Kind: model.KindPerson, Targets: []model.Ref{{Noun: model.NounPerson, ID: who}}, Payload: model.Person{Name: "Z", Roles: []model.Role{model.RoleInCharge}}})
	x.round(c, b)
	if p := b.d.Person(who); !p.May(model.RoleInCharge) {
		ps, _ := b.d.People()
		t.Errorf("C described B's person in charge: at B %+v, people %d", p, len(ps))
	}
}

// A load planned for another place passes B's gate once C described B's pot.
func TestAttackForeignDescriptionPassesTheGate(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	id, g := b.cycle(demo.Burn{Packs: 1, First: 50, Strip: true})
	t.Log(g.Result.Verdict)
	_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 1600})
	b.check(err)
	g, err = b.d.Gate(id)
	b.check(err)
	if !slices.Contains(stops(g), "plan-low") {
		t.Skip("no plan-low", stops(g))
	}
	pot := b.pot()
	x.round(b, c)
	c.put(c.own(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: pot.Looks})
	x.round(c, b)
	if err := b.d.Release(id, ""); err == nil {
		t.Errorf("planned too low for here, and released: %s", word(b.bench, id))
	}
}

// The officer of the office, and the office's reference gauge, restated by a clinic.
func TestAttackClinicTakesOverTheOffice(t *testing.T) {
	x, b, c := twoClinics(t)
	o := x.office
	who := o.d.Acting()
	ref, err := o.d.SaveReference(model.ID{}, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 6000, Certificate: "C-1", Due: o.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	o.check(err)
	x.carry(o, b)
	x.carry(o, c)
	c.put(c.own(), entry.Draft{Kind: model.KindPersonGone, Targets: []model.Ref{{Noun: model.NounPerson, ID: who}}, Payload: model.PersonGone{Reason: "x"}})
	c.put(c.own(), entry.Draft{Kind: model.KindReference, Targets: []model.Ref{{Noun: model.NounReference, ID: ref}}, Payload: model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 100, Certificate: "C-1", Due: 1 << 50}})
	x.carry(c, o)
	if !o.d.Person(who).May(model.RoleInCharge) {
		t.Errorf("C retired the officer at the office: %+v", o.d.Person(who))
	}
	rs, err := o.d.References()
	o.check(err)
	for _, r := range rs {
		if r.ErrorMilli != 6000 {
			t.Errorf("the office's reference gauge, restated by C, at the office: %+v", r.Reference)
		}
	}
}

// The mark at B falls by C restating a person... the reference that B compares with.
func TestAttackForeignReferenceLowersTheMark(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	ref, err := x.office.d.SaveReference(model.ID{}, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 6000, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	x.carry(x.office, b)
	x.carry(x.office, c)
	f := b.good()
	f.With = ref
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	before := b.plan().Frozen.MarkMilli
	c.put(c.own(), entry.Draft{Kind: model.KindReference, Targets: []model.Ref{{Noun: model.NounReference, ID: ref}}, Payload: model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 100, Certificate: "C-1", Due: 1 << 50}})
	x.round(c, b)
	b.clk.Pass(40 * 24 * time.Hour)
	if err := b.d.Compare(b.pot(), b.place().Site, f); err == nil {
		t.Errorf("compared with the office's overdue reference after C restated it; the mark was %d, is %d", before, b.plan().Frozen.MarkMilli)
	} else {
		t.Log(code(err))
	}
}

// Set aside, said by who does not have it, or by a device that was removed.
func TestAttackSetAsideByOthers(t *testing.T) {
	for _, who := range []string{"B", "removed device of C", "B sends it on"} {
		x, b, c, packs, load := neighbours(t)
		b.check(b.d.Stop(load, "spores grew"))
		x.round(b, c)
		if !c.line("borrowed-held") {
			t.Fatal("no line")
		}
		at, _ := b.d.SiteID()
		switch who {
		case "B":
			c.take(b.own(), entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveAside, Site: at}})
		case "removed device of C":
			a := c.gone(71)
			c.put(a, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveAside, Site: at}})
		default:
			a := c.gone(72)
			c.put(a, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveSent, Site: at}})
		}
		if !c.line("borrowed-held") {
			t.Errorf("%s: C holds a stopped pack, and its line is gone from Today", who)
		}
	}
}

// What stands on B's Today, and a device of C takes away.
func TestAttackForeignTakesLinesAway(t *testing.T) {
	x, b, c, packs, load := neighbours(t)
	own := packs[1]
	b.check(b.d.OpenPack(own, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	b.check(b.d.CountBack(own, model.SetCounted{Present: 5, Listed: 6}))
	if !b.line("piece-missing") {
		t.Fatal("no line")
	}
	test := b.spore(load, zyear, true)
	if !b.line("spore-waiting") {
		t.Fatal("no line")
	}
	_, _, err := b.d.MakeCard(b.pot(), b.place().Site, model.Wrapped)
	b.check(err)
	_, err = b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 1600})
	b.check(err)
	if !b.line("card-old") {
		t.Fatal("no card-old")
	}
	x.round(b, c)
	p, err := c.d.Pack(own)
	c.check(err)
	site, _ := c.d.SiteID()
	a := c.own()
	c.put(a, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{pref(own)}, Relies: []entry.ID{p.CountedBy.ID()}, Payload: model.SetCounted{Pack: own, Present: 6, Listed: 6}})
	x.round(c, b)
	if !b.line("piece-missing") {
		t.Error("piece-missing: C says that it is there")
	}
	c.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{{Noun: model.NounTest, ID: test}}, Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: 1 << 45}})
	f := b.plan().Frozen
	c.put(a, entry.Draft{Kind: model.KindCardMade, Payload: model.CardMade{Number: 99, Sterilizer: b.pot().ID, Item: model.Wrapped, Plan: f, VoidAfter: 1 << 50}})
	x.round(c, b)
	if !b.line("spore-waiting") {
		tt, _ := b.d.SporeTest(test)
		t.Errorf("spore-waiting: C read B's test: %s", tt.Said)
	}
	if !b.line("card-old") {
		t.Error("card-old: C says that a newer card hangs at B")
	}
	_ = site
}

// A piece that is missing at B; C says that the pack lies at C.
func TestAttackForeignMoveTakesMissingAway(t *testing.T) {
	x, b, c, packs, _ := neighbours(t)
	own := packs[1]
	b.check(b.d.OpenPack(own, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	b.check(b.d.CountBack(own, model.SetCounted{Present: 5, Listed: 6}))
	x.round(b, c)
	site, _ := c.d.SiteID()
	c.put(c.own(), entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(own)}, Payload: model.PackMoved{What: model.MoveBack, Site: site}})
	x.round(c, b)
	if !b.line("piece-missing") {
		t.Error("a piece is missing at B, C says that it took the pack: the line is gone")
	}
}

// Honest: C states its own minutes; a longer hold that a removed device of B had asked for is forgotten at B.
func TestAttackForeignPolicyAnswersADoubt(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	a := b.manager(80)
	b.put(a, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyWrapped)}, Payload: model.Policy{Code: model.PolicyWrapped, On: true, Value: 45, Source: "survey"}})
	b.remove(a)
	before := b.plan().Frozen.Minutes
	x.round(b, c)
	c.check(c.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 30, Source: "C's own"}))
	x.round(c, b)
	if now := b.plan().Frozen.Minutes; now < before {
		t.Errorf("C's in charge stated C's minutes; at B %d minutes are now %d", before, now)
	}
}

// Cycles of C at B's pot prove the pot; and valve.
func TestAttackForeignValve(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	pot := b.pot()
	v := b.put(b.own(), entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: model.ValveTest{}})
	x.round(b, c)
	c.put(c.own(), entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Relies: []entry.ID{v.ID()}, Payload: model.ValveTest{Lifted: true, FoundPa: 170_000}})
	x.round(c, b)
	if err := b.d.BackToService(b.pot(), register.HoldValve, "x"); err == nil {
		t.Error("C says that B's valve lifts, and the pot is back")
	}
}

// B joins a second district: what the first one stopped is forgotten.
func TestAttackSecondDistrict(t *testing.T) {
	x, b, c, packs, load := neighbours(t)
	c.check(c.d.Stop(load, "strip not reached"))
	x.round(c, b)
	if b.state(packs[1]).Good() {
		t.Fatal("not stopped")
	}
	y := &districtOf{t: t, stick: t.TempDir(), office: newHouse(t, "District office Y", 0, true)}
	defer y.office.d.Close()
	inv, _ := y.answer(b)
	b.check(b.d.Accept(inv, true))
	if s := b.state(packs[1]); s.Good() {
		t.Errorf("C stopped B's load; B joined another district, and its pack is %s", s)
	}
}

// take receives an entry that somebody else signs.
func (h house) take(a *entry.Author, d entry.Draft) entry.Verified {
	h.t.Helper()
	v, err := a.Sign(d, h.clk.Now(), model.ClockGood)
	h.check(err)
	a.Advance(v)
	_, err = h.d.Store.Receive([]entry.Verified{v})
	h.check(err)
	return v
}

// More than a batch of entries of a clinic that joined later, on one stick with the entry that took it in.
func TestAttackManyEntriesBeforeTheJoining(t *testing.T) {
	for i := range 4 { // whether it happens hangs on the order of the streams' ids
		x := newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
		b, c := x.clinics[0], x.clinics[1]
		x.join(c)
		b.check(b.d.Seed(9000, nil))
		x.join(b)
		x.carry(x.office, b)
		packs, _ := b.sterile(1)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
		x.carry(b, x.office)
		x.clear()
		site, err := c.d.SiteID()
		c.check(err)
		_, err = x.office.d.TakeOut(site, x.stick, false, nil)
		c.check(err)
		for n := range 2 {
			in, err := c.d.BringIn(x.stick)
			c.check(err)
			for _, f := range in.Files {
				if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
					t.Errorf("round %d, try %d: part %d of %d: %s %v", i, n, f.Part, f.Of, f.Verdict, f.Cause)
				} else {
					t.Logf("round %d, try %d: part %d of %d: %s new %d waiting %d foreign %d", i, n, f.Part, f.Of, f.Verdict, f.News, f.Waiting, f.Foreign)
				}
			}
		}
		if p, err := c.d.Pack(packs[0]); err != nil || !p.State.Good() {
			t.Errorf("round %d: at C: %v %s", i, err, p.State)
		}
	}
}

// C's root names B's site key for its own site: B, opened from a copied folder, works for C's site.
func TestAttackForeignSiteGrantMovesANewDevice(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	site, _ := c.d.SiteID()
	own, _ := b.d.SiteID()
	root := rootOf(c)
	a := c.authorOf(root)
	c.put(a, entry.Draft{Kind: model.KindSiteGrant, Targets: []model.Ref{{Noun: model.NounSite, ID: site}}, Payload: model.SiteGrant{Site: site, Key: b.authorOf(b.siteKey()).Key()}})
	x.round(c, b)
	t.Setenv("MVUKE_STATE", t.TempDir()) // another machine
	two := house{&bench{t: t, dir: t.TempDir(), clk: b.clk}, "second device of B"}
	b.check(b.d.Close())
	copyDir(t, b.dir, two.dir)
	b.open()
	if err := os.RemoveAll(filepath.Join(two.dir, "lock")); err != nil {
		t.Fatal(err)
	}
	_ = os.Remove(filepath.Join(two.dir, "keys", "device.key"))
	two.open()
	defer two.d.Close()
	now, err := two.d.SiteID()
	b.check(err)
	if now != own {
		t.Errorf("a second device of B works for the site of C: %v", now == site)
	}
}

func rootOf(h house) ed25519.PrivateKey {
	k, err := home.LoadKey(home.Disk{}, h.dir, home.RootKey)
	h.check(err)
	return k
}
