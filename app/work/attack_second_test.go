package work_test

import (
	"slices"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/exchange"
)

var _ = register.Held

// C says that B's pot, which boiled dry, got its new seal and plug.
func TestSecondAttackForeignCare(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	if !b.line("care-now") {
		t.Fatal("no line")
	}
	light := func() string {
		_, _, err := b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
		return code(err)
	}
	if light() != "care-first" {
		t.Fatal(light())
	}
	x.round(b, c)
	cy, err := c.d.Cycle(id)
	c.check(err)
	var dry []entry.ID
	for _, v := range cy.State.Entries {
		dry = append(dry, v.ID())
	}
	a := c.own()
	for _, k := range []model.CareTask{model.CareSeal, model.CarePlug} {
		c.put(a, entry.Draft{Kind: model.KindCareDone, Relies: dry, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.CareDone{Task: k, At: 1}})
	}
	x.round(c, b)
	if !b.line("care-now") {
		t.Error("C says that B's pot was cared for: the line is gone")
	}
	if got := light(); got != "care-first" {
		t.Errorf("a pot that boiled dry is lit: %q", got)
	}
}

// C says that it looked at the packs of B's load.
func TestSecondAttackForeignUnload(t *testing.T) {
	x, b, c, _, _ := neighbours(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 50, Strip: true})
	b.check(err)
	g, err := b.d.Gate(id)
	b.check(err)
	t.Log(stops(g))
	if !slices.Contains(stops(g), "not-unloaded") {
		t.Fatal()
	}
	x.round(b, c)
	cy, err := c.d.Cycle(id)
	c.check(err)
	var ks []model.PackCheck
	for _, p := range cy.Begun.Packs {
		ks = append(ks, model.PackCheck{Pack: p.ID, Dry: true, TapeOK: true, WrapOK: true})
	}
	c.put(c.own(), entry.Draft{Kind: model.KindUnloaded, Targets: []model.Ref{cref(id)}, Payload: model.Unloaded{Checks: ks, Cool: true}})
	x.round(c, b)
	g, _ = b.d.Gate(id)
	t.Log(stops(g))
	if err := b.d.Release(id, ""); err == nil {
		t.Errorf("released by a look that C says to have had at B: %s", word(b.bench, id))
	}
}

// C's root says that C's box is B's.
func TestSecondAttackForeignBox(t *testing.T) {
	x, b, c := twoClinics(t)
	root, err := home.LoadKey(home.Disk{}, c.dir, home.RootKey)
	c.check(err)
	box, err := exchange.NewBox()
	c.check(err)
	site, _ := b.d.SiteID()
	d := c.d.Store.District()
	c.put(c.authorOf(root), entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: d[:], Site: site, Name: "x", Code: "XXX", Request: make([]byte, 32), Box: box.Address()}})
	b.sterile(1)
	x.carry(b, x.office)
	x.carry(c, x.office)
	x.clear()
	_, err = x.office.d.TakeOut(site, x.stick, true, nil)
	x.office.check(err)
	if n := opens(t, x.stick, box); n > 0 {
		t.Errorf("what the office locks to B is opened by a box that C made: %d files", n)
	}
}

// C's root names B's device as the key of C: the office gives C all that B wrote.
func TestSecondAttackStreamLeaks(t *testing.T) {
	for _, how := range []string{"nothing", "device grant", "site grant"} {
		x, b, c := twoClinics(t)
		root, err := home.LoadKey(home.Disk{}, c.dir, home.RootKey)
		c.check(err)
		dev, err := home.LoadKey(home.Disk{}, b.dir, home.DeviceKey)
		b.check(err)
		sk := b.authorOf(dev).Key()
		cs, _ := c.d.SiteID()
		switch how {
		case "device grant":
			c.put(c.authorOf(c.siteKey()), entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: cs, Key: sk, Letter: "Z"}})
		case "site grant":
			c.put(c.authorOf(root), entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: cs, Key: sk}})
		}
		packs, _ := b.sterile(1)
		x.carry(b, x.office)
		x.round(c, c)
		if _, err := c.d.Pack(packs[0]); err == nil {
			t.Errorf("%s: C reads what B does, and shared nothing with it", how)
		}
	}
}

// B is in X; a bare acceptance (words not compared) of another district drops what X's officer found of B's dial.
func TestSecondAttackSecondDistrictLowersTheMark(t *testing.T) {
	x, b, _, _, _ := neighbours(t)
	pot := b.pot()
	before := b.plan().Frozen
	gl := pot.Gauge
	span := gl.SpanMilli
	x.office.put(x.office.own(), entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}, {Noun: model.NounSterilizer, ID: pot.ID}},
		Payload: model.Compared{ReferenceMilli: span / 400, At: b.clk.Now().Wall.UnixMilli(), Gauge: &gl, Points: []model.FrozenCorrection{{AtMilli: span / 5, ErrorMilli: span * 8 / 100}, {AtMilli: span / 2, ErrorMilli: span * 8 / 100}}}})
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 45, Source: "district"}))
	x.carry(x.office, b)
	with := b.plan().Frozen
	y := &districtOf{t: t, stick: t.TempDir(), office: newHouse(t, "District office Y", 0, true)}
	defer y.office.d.Close()
	inv, _ := y.answer(b)
	b.check(b.d.Accept(inv, false))
	now := b.plan().Frozen
	t.Log(before.MarkMilli, with.MarkMilli, now.MarkMilli, with.Minutes, now.Minutes)
	if now.MarkMilli < with.MarkMilli {
		t.Errorf("the mark falls from %d to %d", with.MarkMilli, now.MarkMilli)
	}
	if now.Minutes < with.Minutes {
		t.Errorf("the minutes fall from %d to %d", with.Minutes, now.Minutes)
	}
}

// A stop of C on B's load is heard at D, which has a sibling of the pack.
func TestSecondAttackStopReachesWhoHasASibling(t *testing.T) {
	for _, rebuild := range []bool{false, true} {
		x, b, c, d := threeClinics(t)
		packs, load := b.sterile(2)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
		b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveSent, To: d.name}))
		x.round(b, c)
		x.carry(x.office, d)
		if s := d.state(packs[1]); !s.Good() {
			t.Fatal(s)
		}
		c.check(c.d.Stop(load, "the tape of the pack was unchanged"))
		for range 2 {
			x.carry(c, x.office)
			if rebuild {
				x.office.check(x.office.d.Store.RebuildViews())
			}
			x.carry(x.office, d)
			x.carry(d, x.office)
		}
		if s := x.office.state(packs[1]); s.Good() {
			t.Errorf("at the office %s", s)
		}
		if s := d.state(packs[1]); s.Good() {
			t.Errorf("rebuilt %v: C stopped the load, the office knows, and at D its sibling is %s", rebuild, s)
		}
	}
}

// C uses B's pack, then loads it anew.
func TestSecondAttackBorrowedLine(t *testing.T) {
	x, b, c, packs, load := neighbours(t)
	b.check(b.d.Stop(load, "spores grew"))
	x.round(b, c)
	if !c.line("borrowed-held") {
		t.Fatal("no line")
	}
	p, err := c.d.Pack(packs[0])
	c.check(err)
	l, err := c.d.LoadOf([]string{p.Label})
	if err != nil {
		t.Log("LoadOf", code(err))
	}
	t.Log(l)
	_, err = demo.CycleWith(c.d, c.clk, demo.Burn{Strip: true}, l)
	if err != nil {
		t.Log("cycle", code(err))
	}
	if !c.line("borrowed-held") {
		t.Error("C puts it into a load of its own: the line is gone")
	}
}
