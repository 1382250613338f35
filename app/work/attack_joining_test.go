package work_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

var _ = demo.NewClock
var _ = time.Now
var _ = io.Copy

func twoClinics(t *testing.T) (x *districtOf, b, c house) {
	x = newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga")
	b, c = x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	x.carry(x.office, c)
	return x, b, c
}

func (x *districtOf) round(a, b house) {
	x.t.Helper()
	x.carry(a, x.office)
	x.carry(x.office, b)
}

// The borrower stops the load and sends its pack back: the stop never reaches who made it.
func TestAttackStopThatGoesBackWithThePack(t *testing.T) {
	for _, how := range []string{"sent back by C", "taken back by B"} {
		x, b, c := twoClinics(t)
		packs, load := b.sterile(2)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
		x.round(b, c)
		if how == "sent back by C" {
			c.check(c.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: b.name}))
			c.check(c.d.Stop(load, "the tape of the pack was unchanged"))
		} else {
			c.check(c.d.Stop(load, "the tape of the pack was unchanged"))
			b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveBack}))
			x.carry(b, x.office)
		}
		for range 2 {
			x.round(c, b)
			x.round(b, c)
		}
		if s := x.office.state(packs[1]); s.Good() {
			t.Errorf("%s: at the office %s", how, s)
		}
		if s := b.state(packs[1]); s.Good() {
			t.Errorf("%s: C stopped the load, the office knows, and at B its sibling is %s", how, s)
		}
	}
}

// threeClinics are of one district, and each knows of the others.
func threeClinics(t *testing.T) (x *districtOf, b, c, d house) {
	t.Helper()
	x = newDistrictOf(t, "Clinic Ndovu", "Clinic Twiga", "Clinic Simba")
	for _, h := range x.clinics {
		x.join(h)
	}
	for _, h := range x.clinics {
		x.carry(x.office, h)
	}
	return x, x.clinics[0], x.clinics[1], x.clinics[2]
}

// B sends a pack to C, C sends it on to D: what stops it at C or B, and whether D is told.
func TestAttackThreeClinics(t *testing.T) {
	x, b, c, d := threeClinics(t)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	x.round(b, c)
	c.check(c.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: d.name}))
	x.round(c, d)
	shelf, err := d.d.OnShelf(10)
	d.check(err)
	if len(shelf) != 1 {
		t.Errorf("on the shelf of D: %d packs", len(shelf))
	}
	b.check(b.d.Stop(load, "spores grew"))
	x.round(b, d)
	if s := d.state(packs[0]); s.Good() {
		t.Errorf("stopped at B, at D it is %s", s)
	}
	if !d.line("borrowed-held") {
		t.Error("stopped at B: D has it and is not told on Today")
	}
	x.carry(x.office, b)
	p, err := b.d.Pack(packs[0])
	b.check(err)
	site, _ := d.d.SiteID()
	if p.At != site {
		t.Error("B thinks that it is elsewhere")
	}
}

// the one between stops it after it went on
func TestAttackThreeClinicsStopInTheMiddle(t *testing.T) {
	x, b, c, d := threeClinics(t)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	x.round(b, c)
	c.check(c.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: d.name}))
	x.round(c, d)
	c.check(c.d.Stop(load, "it had fallen into water here"))
	for range 2 {
		x.round(c, d)
		x.round(c, b)
		x.round(d, c)
		x.round(b, c)
	}
	for _, h := range []house{x.office, b, d} {
		if p, err := h.d.Pack(packs[0]); err == nil && p.State.Good() {
			t.Errorf("stopped at C, at %s it is %s", h.name, p.State)
		}
	}
}

// Asked twice because the first answer was lost: the clinic can take out nothing, for ever.
func TestAttackAskedTwice(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu")
	b := x.clinics[0]
	var in work.BroughtIn
	for range 2 {
		x.clear() // the first answer is lost with its stick
		_, err := b.d.Ask(x.stick)
		b.check(err)
		in, err = x.office.d.BringIn(x.stick)
		b.check(err)
		x.clear()
		_, err = x.office.d.TakeIn(in.Asks[0], in.Asks[0].Code, x.stick)
		b.check(err)
	}
	got, err := b.d.BringIn(x.stick)
	b.check(err)
	if got.Files[0].Invited == nil {
		t.Fatalf("%+v", got.Files[0])
	}
	b.check(b.d.Accept(got.Files[0].Invited, true))
	b.check(x.office.d.Prove(in.Asks[0].Site))
	_, err = b.d.BringIn(x.stick)
	b.check(err)
	office, _ := x.office.d.SiteID()
	x.clear()
	if _, err := b.d.TakeOut(office, x.stick, true, nil); err != nil {
		t.Errorf("words compared on both sides, and the clinic may not take out: %v", code(err))
	}
	if err := b.d.ProveHere(); err != nil {
		t.Logf("compare again: %v", code(err))
	}
	_, err = x.office.d.BringIn(x.stick)
	b.check(err)
	if _, err := x.office.d.TakeOut(in.Asks[0].Site, x.stick, true, nil); err != nil {
		t.Errorf("nor the office: %v", code(err))
	}
}

// Joined, and then the register is brought back from a copy from before.
func TestAttackRestoredFromBeforeJoining(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu")
	b := x.clinics[0]
	b.sterile(1)
	b.check(b.d.Close())
	old := t.TempDir()
	copyDir(t, b.dir, old)
	b.open()
	x.join(b)
	b.check(b.d.Close())
	for _, f := range []string{"register.db", "views.db", "waiting.db", "register.db-wal", "register.db-shm", "views.db-wal", "views.db-shm", "waiting.db-wal", "waiting.db-shm"} {
		_ = os.Remove(filepath.Join(b.dir, f))
	}
	raw, err := os.ReadFile(filepath.Join(old, "register.db"))
	b.check(err)
	b.check(os.WriteFile(filepath.Join(b.dir, "register.db"), raw, 0o600))
	b.open()
	site, err := b.d.SiteID()
	b.check(err)
	office, _ := x.office.d.SiteID()
	complain := t.Logf // an ordinary stick may not do; asking again must
	try := func(what string) bool {
		x.clear()
		if _, err := x.office.d.TakeOut(site, x.stick, false, nil); err != nil {
			complain("%s: the office: %v", what, code(err))
			return false
		}
		in, err := b.d.BringIn(x.stick)
		b.check(err)
		ok := true
		for _, f := range in.Files {
			if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
				complain("%s: the office's stick at B: %s, invited %v", what, f.Verdict, f.Invited != nil)
				ok = false
			}
		}
		x.clear()
		if _, err := b.d.TakeOut(office, x.stick, false, nil); err != nil {
			complain("%s: B takes out: %v", what, code(err))
			ok = false
		}
		return ok
	}
	if try("restored") {
		return
	}
	complain = t.Errorf
	x.clear()
	_, err = b.d.Ask(x.stick)
	b.check(err)
	in, err := x.office.d.BringIn(x.stick)
	b.check(err)
	if len(in.Asks) != 1 {
		t.Fatalf("%+v", in)
	}
	x.clear()
	_, err = x.office.d.TakeIn(in.Asks[0], in.Asks[0].Code, x.stick)
	b.check(err)
	got, err := b.d.BringIn(x.stick)
	b.check(err)
	if got.Files[0].Invited != nil {
		b.check(b.d.Accept(got.Files[0].Invited, true))
		b.check(x.office.d.Prove(site))
		_, err = b.d.BringIn(x.stick)
		b.check(err)
	} else {
		t.Logf("asked again: %s", got.Files[0].Verdict)
	}
	for i := range 2 {
		try("asked again " + string(rune('1'+i)))
	}
}

func copyDir(t *testing.T, from, to string) {
	t.Helper()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
}

// The office is brought back from a copy from before it took a clinic in.
func TestAttackOfficeRestored(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu")
	b, o := x.clinics[0], x.office
	b.check(o.d.Close())
	old := t.TempDir()
	copyDir(t, o.dir, old)
	o.open()
	x.join(b)
	b.check(o.d.Close())
	for _, f := range []string{"register.db", "views.db", "waiting.db", "register.db-wal", "register.db-shm", "views.db-wal", "views.db-shm", "waiting.db-wal", "waiting.db-shm"} {
		_ = os.Remove(filepath.Join(o.dir, f))
	}
	raw, err := os.ReadFile(filepath.Join(old, "register.db"))
	b.check(err)
	b.check(os.WriteFile(filepath.Join(o.dir, "register.db"), raw, 0o600))
	o.open()
	site, _ := b.d.SiteID()
	office, _ := o.d.SiteID()
	b.sterile(1)
	complain := t.Logf // an ordinary stick may not do; everything must
	try := func(all bool) {
		x.clear()
		_, err := b.d.TakeOut(office, x.stick, all, nil)
		b.check(err)
		in, err := o.d.BringIn(x.stick)
		b.check(err)
		for _, f := range in.Files {
			if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
				complain("B's stick (everything: %v) at the restored office: %s %v", all, f.Verdict, f.Cause)
			}
		}
		x.clear()
		if _, err := o.d.TakeOut(site, x.stick, all, nil); err != nil {
			complain("the office takes out for B: %v", code(err))
			return
		}
		in, err = b.d.BringIn(x.stick)
		b.check(err)
		for _, f := range in.Files {
			if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
				complain("the restored office's stick (everything %v) at B: %s %v", all, f.Verdict, f.Cause)
			}
		}
	}
	try(false)
	complain = t.Errorf
	try(true)
}

// The district's leave to release what is not known, at a clinic that once had said no and then yes.
func TestAttackOverrideThatNeverCounts(t *testing.T) {
	x := newDistrictOf(t, "Clinic Ndovu")
	b := x.clinics[0]
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "district decree 4"}))
	for _, on := range []bool{false, true} {
		b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: on, Source: "our own"}))
	}
	x.join(b)
	rules, err := b.d.Rules()
	b.check(err)
	id, g := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, LooksAway: true})
	t.Log(rules.On(model.PolicyNotKnown), g.Result.Verdict, stops(g), g.Override)
	if !g.Override {
		t.Skip()
	}
	b.check(b.d.Release(id, "needed for a birth"))
	if w := word(b.bench, id); w != register.Usable {
		t.Errorf("released by the district's leave, and the pack is %s", w)
	}
}
