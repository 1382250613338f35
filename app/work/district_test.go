package work_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// place is one site's computer in a district.
type house struct {
	*bench
	name string
}

// district is an office with clinics, that meet by a folder in somebody's pocket.
type districtOf struct {
	t       *testing.T
	stick   string
	office  house
	clinics []house
}

func newHouse(t *testing.T, name string, height int64, office bool) house {
	t.Helper()
	dir := t.TempDir()
	b := &bench{t: t, dir: dir, clk: demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))}
	b.open()
	a := demo.Answers("en")
	a.Site.Name, a.Site.HeightM, a.Office = name, height, office
	a.Person.Name = "In charge at " + name
	b.check(b.d.SetUp(a))
	if !office {
		b.proven()
	}
	return house{b, name}
}

func newDistrictOf(t *testing.T, names ...string) *districtOf {
	t.Helper()
	if testing.Short() && t.Name() != "TestAClinicJoinsWithItsPast" && t.Name() != "TestCase65PackMovedAcrossSites" {
		t.Skip("a short run plays two districts; the others belong to the whole one")
	}
	t.Setenv("MVUKE_STATE", t.TempDir())
	x := &districtOf{t: t, stick: t.TempDir(), office: newHouse(t, "District office", 0, true)}
	for i, n := range names {
		x.clinics = append(x.clinics, newHouse(t, n, int64(1200+100*i), false))
	}
	t.Cleanup(func() {
		for _, h := range append(x.clinics, x.office) {
			_ = h.d.Close()
		}
	})
	return x
}

// answer lets a clinic ask, the office take it in, and the clinic read the answer, with the words that the office shows.
func (x *districtOf) answer(h house) (inv *work.Invitation, site model.ID) {
	x.t.Helper()
	x.clear()
	_, err := h.d.Ask(x.stick)
	h.check(err)
	in, err := x.office.d.BringIn(x.stick)
	h.check(err)
	if len(in.Asks) != 1 || in.Asks[0].Name != h.name {
		x.t.Fatalf("%s asks: %+v", h.name, in.Asks)
	}
	x.clear()
	words, err := x.office.d.TakeIn(in.Asks[0], in.Asks[0].Code, x.stick)
	h.check(err)
	got, err := h.d.BringIn(x.stick)
	h.check(err)
	if len(got.Files) != 1 || got.Files[0].Invited == nil || got.Files[0].Invited.Words != words {
		x.t.Fatalf("%s brings in %+v, the office shows %q", h.name, got.Files, words)
	}
	return got.Files[0].Invited, in.Asks[0].Site
}

// join has a clinic taken in, the words compared by both, and what each knows carried to the other.
func (x *districtOf) join(h house) {
	x.t.Helper()
	inv, site := x.answer(h)
	h.check(h.d.Accept(inv, true))
	h.check(x.office.d.Prove(site))
	got, err := h.d.BringIn(x.stick)
	h.check(err)
	if got.Files[0].Verdict != work.CarryNew {
		x.t.Fatalf("after accepting: %s", got.Files[0].Verdict)
	}
	x.carry(h, x.office)
	x.carry(x.office, h)
}

func (x *districtOf) clear() {
	files, err := os.ReadDir(x.stick)
	x.office.check(err)
	for _, f := range files {
		x.office.check(os.RemoveAll(filepath.Join(x.stick, f.Name())))
	}
}

// carry takes a stick from one to another.
func (x *districtOf) carry(from, to house) work.BroughtIn {
	x.t.Helper()
	x.clear()
	site, err := to.d.SiteID()
	to.check(err)
	_, err = from.d.TakeOut(site, x.stick, false, nil)
	from.check(err)
	in, err := to.d.BringIn(x.stick)
	to.check(err)
	for _, f := range in.Files {
		if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
			x.t.Fatalf("%s to %s: %s %v", from.name, to.name, f.Verdict, f.Cause)
		}
	}
	return in
}

func (x *districtOf) same(a, b house) {
	x.t.Helper()
	p, err := a.d.Store.Digest()
	a.check(err)
	q, err := b.d.Store.Digest()
	b.check(err)
	if p != q {
		x.t.Errorf("%s and %s hold the same and show another state", a.name, b.name)
	}
}

func TestAClinicJoinsWithItsPast(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
	b, c := x.clinics[0], x.clinics[1]
	packs, _ := b.sterile(1) // before any district
	before, stream := b.d.Acts(), b.own().Stream
	head, _ := b.d.Store.HeadAt(stream, before)
	x.join(b)
	x.join(c)
	if now, ok := b.d.Store.HeadAt(stream, before); !ok || now != head {
		t.Error("joining changed the past")
	}
	if now := b.d.Acts(); now > before+1 { // the address for what is sent to it, told once
		t.Errorf("joining signed %d acts anew", now-before)
	}
	if u, err := x.office.d.Usable(packs[0]); err != nil || u.Word != register.Usable {
		t.Errorf("released before joining, at the office: %s %v", u.Word, err)
	}
	if u, err := c.d.Usable(packs[0]); err != nil || u.Word == register.Usable {
		t.Errorf("clinic C sees what it was never sent: %s %v", u.Word, err)
	}
	for _, h := range []house{b, c} { // nobody's screens are full of the others
		p, err := h.d.Place()
		h.check(err)
		if p.Site.Name != h.name || len(p.Pots) != 1 {
			t.Errorf("%s: %q with %d pots", h.name, p.Site.Name, len(p.Pots))
		}
		ids, err := h.d.LatestCycles(9)
		h.check(err)
		if h.name == c.name && len(ids) != 0 {
			t.Errorf("%s shows %d cycles of others", h.name, len(ids))
		}
	}
	sites, err := x.office.d.Sites()
	b.check(err)
	if len(sites) != 3 || sites[1].Code == sites[2].Code {
		t.Errorf("%+v", sites)
	}
	x.carry(b, x.office)
	x.carry(x.office, b)
}

// Case 65: a pack that was sent to another clinic is stopped where it was made; the stop reaches it by stick, and the answer goes back.
func TestCase65PackMovedAcrossSites(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b) // B hears of C
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "clinic twiga"}))
	x.carry(b, x.office)
	x.carry(x.office, c)
	if s := c.state(packs[0]); !s.Good() {
		t.Fatalf("at C: %s", s)
	}
	if u, err := c.d.Usable(packs[1]); err != nil || u.Word != register.Usable {
		t.Fatalf("the whole stream of B came: %s %v", u.Word, err)
	}
	shelf, err := c.d.OnShelf(10)
	c.check(err)
	if len(shelf) != 1 || shelf[0].ID != packs[0] || shelf[0].Out() {
		t.Errorf("on the shelf of C: %d packs", len(shelf))
	}
	if p, err := b.d.Pack(packs[0]); err != nil || !p.Out() {
		t.Errorf("B thinks that it has the pack: %v", err)
	}
	b.check(b.d.Stop(load, "spores grew"))
	x.carry(b, x.office)
	x.carry(x.office, c)
	if !c.line("borrowed-held") {
		t.Error("C is not told")
	}
	if s := c.state(packs[0]); s.Good() {
		t.Errorf("stopped at B, at C: %s", s)
	}
	if err := c.d.ClearHold(cref(load), work.HoldStopped, "it looks good"); err == nil {
		if s := c.state(packs[0]); s.Good() {
			t.Error("C lifted B's stop")
		}
	}
	c.check(c.d.SetAside(packs[0]))
	if c.line("borrowed-held") {
		t.Error("answered, and still on Today")
	}
	x.carry(c, x.office)
	x.carry(x.office, b)
	p, err := b.d.Pack(packs[0])
	b.check(err)
	site, _ := c.d.SiteID()
	if p.At != site || p.Where() != model.MoveAside {
		t.Errorf("B reads: at %v, %s", p.At, p.Where())
	}
	x.carry(x.office, c)
	x.same(x.office, b)
}

// Joined without comparing the words: nothing goes out, no policy, no clear and no release of the office counts.
func TestJoinedUnproven(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu")
	b := x.clinics[0]
	packs, load := b.sterile(1)
	b.check(b.d.Stop(load, "wet"))
	_, err := b.d.Ask(x.stick)
	b.check(err)
	in, err := x.office.d.BringIn(x.stick)
	b.check(err)
	x.clear()
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "district decree 4"}))
	_, err = x.office.d.TakeIn(in.Asks[0], "NDV", x.stick)
	b.check(err)
	got, err := b.d.BringIn(x.stick)
	b.check(err)
	b.check(b.d.Accept(got.Files[0].Invited, false))
	_, err = b.d.BringIn(x.stick)
	b.check(err)
	office, _ := x.office.d.SiteID()
	if _, err := b.d.TakeOut(office, x.stick, true, nil); code(err) != "unproven" {
		t.Errorf("an unproven clinic takes out: %v", err)
	}
	if _, err := x.office.d.TakeOut(in.Asks[0].Site, x.stick, true, nil); code(err) != "unproven-other" {
		t.Errorf("the office takes out for an unproven clinic: %v", err)
	}
	rules, err := b.d.Rules()
	b.check(err)
	if rules.On(model.PolicyNotKnown) {
		t.Error("an unproven district's policy counts")
	}
	// the office's device clears the clinic's stop
	a := x.office.own()
	var grant []entry.ID
	for _, k := range []model.Kind{model.KindDeviceGrant, model.KindSiteGrant} {
		vs, err := x.office.d.Store.ByKind(k)
		b.check(err)
		grant = append(grant, vs[0].ID())
	}
	c, err := b.d.Cycle(load)
	b.check(err)
	v, err := a.Sign(entry.Draft{Kind: model.KindClear, Targets: []model.Ref{cref(load)}, Clears: []entry.ID{c.State.Holds[0].ID}, Relies: append(grant, c.State.Holds[0].Cause.ID()), Payload: model.Clear{Reason: "x"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{v})
	b.check(err)
	if s := b.state(packs[0]); s.Good() {
		t.Errorf("an unproven office lifted a stop: %s", s)
	}
	j, err := b.d.Joined()
	b.check(err)
	if !j.Unproven || j.Words == "" || j.District != "District office" || !b.line("unproven") {
		t.Errorf("%+v", j)
	}
	b.check(b.d.ProveHere())
	if j, err = b.d.Joined(); err != nil || j.Unproven {
		t.Errorf("%+v %v", j, err)
	}
	if s := b.state(packs[0]); s.Good() { // what the office signed before that counts no more than it did: nothing but a clear lifts a stop
		t.Errorf("an acceptance lifted a stop: %s", s)
	}
}

// Another clinic's device cannot make anything of ours look better, whatever it signs.
func TestAnotherClinicCannotSpeakForUs(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	x.carry(x.office, c)
	packs, load := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 50, Strip: true})
	b.check(b.d.Stop(load, "wet"))
	x.carry(b, x.office)
	x.carry(x.office, c)
	mark := b.plan().Frozen.RestartMilli
	held, err := c.d.Cycle(load)
	c.check(err)
	open, err := c.d.Cycle(id)
	c.check(err)
	a := c.own()
	var own []entry.ID
	vs, err := c.d.Store.ByKind(model.KindDeviceGrant)
	c.check(err)
	for _, v := range vs {
		var g model.DeviceGrant
		if v.Body().Decode(&g) == nil && entry.StreamOf(g.Key) == a.Stream {
			own = append(own, v.ID())
		}
	}
	vs, err = c.d.Store.ByKind(model.KindSiteGrant)
	c.check(err)
	for _, v := range vs {
		own = append(own, v.ID())
	}
	pot := b.pot()
	low := b.place().Site
	low.HeightM = 10
	c.put(a, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{cref(load)}, Clears: []entry.ID{held.State.Holds[0].ID}, Relies: own, Payload: model.Clear{Reason: "x"}})
	c.put(a, entry.Draft{Kind: model.KindRelease, Targets: open.Entry.Body().Refs(), Relies: append(open.Evidence(), own...), Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	c.put(a, entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounSite, ID: b.place().ID}}, Payload: low})
	c.put(a, entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}}, Payload: model.Compared{Points: []model.FrozenCorrection{{AtMilli: 60_000, ErrorMilli: -20_000}, {AtMilli: 127_000, ErrorMilli: -20_000}}, At: b.clk.Wall.UnixMilli(), Gauge: &pot.Gauge}})
	c.put(a, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "x"}})
	c.put(a, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyWrapped)}, Payload: model.Policy{Code: model.PolicyWrapped, On: true, Value: 15, Source: "x"}})
	x.carry(c, x.office)
	x.carry(x.office, b)
	if s := b.state(packs[0]); s.Good() {
		t.Errorf("C lifted a stop of B: %s", s)
	}
	if w := word(b.bench, id); w == register.Usable {
		t.Error("C released a load of B")
	}
	if now := b.plan().Frozen.RestartMilli; now < mark {
		t.Errorf("C lowered the mark of B: %d to %d", mark, now)
	}
	rules, err := b.d.Rules()
	b.check(err)
	if rules.On(model.PolicyNotKnown) || rules.Value(model.PolicyWrapped) < 30 {
		t.Error("a policy of C counts at B")
	}
	ok, err := b.d.Store.Has(held.State.Holds[0].Cause.ID())
	if err != nil || !ok {
		t.Fatal(err)
	}
}

// Strangers and other districts: nothing is mixed in.
func TestAFileOfAnotherDistrictIsForeign(t *testing.T) {
	x, y := newDistrictOf(t, "Clinic Ndovu"), newDistrictOf(t, "Clinic Mamba")
	x.join(x.clinics[0])
	y.join(y.clinics[0])
	b, m := x.clinics[0], y.clinics[0]
	n, err := b.d.Store.Count()
	b.check(err)
	y.clear()
	office, _ := y.office.d.SiteID()
	_, err = m.d.TakeOut(office, y.stick, true, nil)
	m.check(err)
	in, err := b.d.BringIn(y.stick)
	b.check(err)
	now, err := b.d.Store.Count()
	b.check(err)
	if len(in.Files) != 1 || in.Files[0].Verdict != "not-for-us" || now != n {
		t.Errorf("%+v, %d entries more", in.Files, now-n)
	}
	_ = time.Now
	_ = home.SiteKey
}
