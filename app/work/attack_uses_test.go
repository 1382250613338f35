package work_test

import (
	"strings"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// The patient who got a stopped pack is on B's Today; C's device says that it opened the pack, too.
func TestSecondAttackOpenedByOthers(t *testing.T) {
	for _, how := range []string{"early, no number", "strip bad", "removed device, strip bad"} {
		x, b, c, packs, load := neighbours(t)
		own := packs[1]
		b.check(b.d.OpenPack(own, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
		b.check(b.d.Stop(load, "spores grew"))
		l, ok := lineOf(t, b.bench, "stopped-out")
		if !ok || !strings.Contains(strings.Join(l.Args, " "), "1187") {
			t.Fatal(l)
		}
		x.round(b, c)
		var a *entry.Author
		o := model.PackOpened{Strip: model.StripNot}
		h := c
		switch how {
		case "early, no number":
			a = c.own()
			a.Lamport = 0
			o = model.PackOpened{Strip: model.StripReached}
		case "strip bad":
			a = c.own()
		default:
			a, h = b.gone(90), b
		}
		h.put(a, entry.Draft{Kind: model.KindPackOpened, Targets: []model.Ref{pref(own)}, Payload: o})
		x.round(c, b)
		l, ok = lineOf(t, b.bench, "stopped-out")
		if !ok {
			t.Errorf("%s: who got a stopped pack is not on B's Today any more", how)
		} else if !strings.Contains(strings.Join(l.Args, " "), "1187") {
			t.Errorf("%s: the patient's number is gone: %v", how, l.Args)
		}
	}
}

// A stopped pack lies at C; another (B, or a removed device) says that it is spoilt.
func TestSecondAttackSpoiltByOthers(t *testing.T) {
	for _, how := range []string{"B", "removed device of C"} {
		x, b, c, packs, load := neighbours(t)
		b.check(b.d.Stop(load, "spores grew"))
		x.round(b, c)
		if !c.line("borrowed-held") {
			t.Fatal("no line")
		}
		d := entry.Draft{Kind: model.KindPackSpoilt, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackSpoilt{Why: model.SpoiltTorn}}
		if how == "B" {
			b.put(b.own(), d)
			x.round(b, c)
		} else {
			c.put(c.gone(91), d)
		}
		if !c.line("borrowed-held") {
			t.Errorf("%s says that it is spoilt: C holds a stopped pack, and its line is gone", how)
		}
	}
}

// Honest: C sterilizes a borrowed pack anew (its shelf life is over).
func TestSecondAttackBorrowedAgain(t *testing.T) {
	x, b, c, packs, _ := neighbours(t)
	_ = x
	_ = b
	p, err := c.d.Pack(packs[0])
	c.check(err)
	l, err := c.d.LoadOf([]string{p.Label})
	t.Log(l, code(err))
	if err != nil {
		return
	}
	id, err := demo.CycleWith(c.d, c.clk, demo.Burn{Strip: true}, l)
	t.Log("cycle", code(err))
	if err != nil {
		return
	}
	ks, err := demo.GoodChecks(c.d, id)
	c.check(err)
	c.check(c.d.Unload(id, ks, true))
	g, err := c.d.Gate(id)
	c.check(err)
	t.Log(stops(g), code(c.d.Release(id, "")), c.state(packs[0]), c.line("borrowed-held"))
	if p, err := c.d.Pack(packs[0]); err == nil && !p.State.Good() {
		t.Errorf("run, looked at and released at C, it is %s; Today to-confirm %v held %v", p.State, c.line("to-confirm"), c.line("held"))
	}
}

// C's root says that it took B's request in: the office thinks so too.
func TestSecondAttackSomebodyTookItIn(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
	b, c := x.clinics[0], x.clinics[1]
	x.join(c)
	x.clear()
	_, err := b.d.Ask(x.stick)
	b.check(err)
	in, err := x.office.d.BringIn(x.stick)
	b.check(err)
	ask := in.Asks[0]
	root, err := home.LoadKey(home.Disk{}, c.dir, home.RootKey)
	c.check(err)
	d := ask.District()
	c.put(c.authorOf(root), entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: d[:], Site: ask.Site, Name: "x", Code: "XXX", Request: ask.Hash[:]}})
	x.carry(c, x.office)
	x.clear()
	words, err := x.office.d.TakeIn(ask, ask.Code, x.stick)
	x.office.check(err)
	got, err := b.d.BringIn(x.stick)
	b.check(err)
	if len(got.Files) != 1 || got.Files[0].Invited == nil || got.Files[0].Invited.Words != words {
		t.Errorf("the office shows words (%q) for a joining that C wrote, and B is not taken in: %+v", words, got.Files[0].Verdict)
	}
}

// C says of a pack of its own that it went to B: the office gives C all of B.
func TestSecondAttackLeakByAMove(t *testing.T) {
	x, b, c := twoClinics(t)
	mine, _ := c.sterile(1)
	c.check(c.d.MovePack(mine[0], model.PackMoved{What: model.MoveSent, To: b.name}))
	packs, _ := b.sterile(1)
	x.carry(b, x.office)
	x.round(c, c)
	if _, err := c.d.Pack(packs[0]); err == nil {
		t.Errorf("C said that it sent a pack to B; B never saw it: C reads all of B")
	}
}
