package work_test

import (
	"strings"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

func packForm(set string) work.PackForm {
	return work.PackForm{Set: set, Present: 6, Listed: 6, Wrap: model.WrapCloth, Washes: 3, Tape: true, Strip: true}
}

// sterile packs n sets, runs a good cycle with them and releases it.
func (b *bench) sterile(n int) (packs []model.ID, cycle model.ID) {
	b.t.Helper()
	var labels []string
	for range n {
		id, num, err := b.d.MakePack(packForm("delivery"))
		b.check(err)
		packs, labels = append(packs, id), append(labels, num.Text)
	}
	load, err := b.d.LoadOf(labels)
	b.check(err)
	cycle, err = demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, load)
	b.check(err)
	checks, err := demo.GoodChecks(b.d, cycle)
	b.check(err)
	b.check(b.d.Unload(cycle, checks, true))
	b.check(b.d.Release(cycle, ""))
	return packs, cycle
}

func (b *bench) state(id model.ID) work.Shelf {
	b.t.Helper()
	p, err := b.d.Pack(id)
	b.check(err)
	return p.State
}

func TestAPackRoundItsWholeLife(t *testing.T) {
	b := desk(t)
	id, num, err := b.d.MakePack(packForm("delivery"))
	b.check(err)
	if b.state(id) != work.ShelfMade || !strings.HasPrefix(num.Text, "NDV-A0") {
		t.Fatalf("%s %s", b.state(id), num.Text)
	}
	if code(b.d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "ward"})) != "pack-not-usable" {
		t.Error("a pack that was never sterilized was issued")
	}
	packs, _ := b.sterile(3)
	if b.state(packs[0]) != work.ShelfReady {
		t.Fatalf("released, and %s", b.state(packs[0]))
	}
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveStored, To: "shelf 2"}))
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveLent, To: "Kimbala"}))
	if code(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "X"})) != "pack-out-already" {
		t.Error("a pack went out twice")
	}
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveBack}))
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	if b.state(packs[0]) != work.ShelfUsed || b.state(packs[1]) != work.ShelfReady {
		t.Errorf("%s, its sibling %s", b.state(packs[0]), b.state(packs[1]))
	}
	if code(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached})) != "pack-ended" {
		t.Error("a pack was opened twice")
	}
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 6, Listed: 6}))
	if code(b.d.CountBack(packs[1], model.SetCounted{Present: 6, Listed: 6})) != "pack-not-opened" {
		t.Error("an unopened pack was counted back")
	}
}

// Case 71: a strip that fails at the bedside ends its pack and holds its unopened siblings at once.
func TestCase071StripFailsAtTheBedside(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(6)
	b.check(b.d.OpenPack(packs[2], work.UseForm{Outside: true, Strip: model.StripNot}))
	for i, p := range packs {
		want := work.ShelfHeld
		if i == 2 {
			want = work.ShelfUsed
		}
		if got := b.state(p); got != want {
			t.Errorf("pack %d is %s, not %s", i, got, want)
		}
	}
	ls, err := b.d.Today()
	b.check(err)
	if ls[0].Code != "held" || ls[0].Cycle != cycle {
		t.Errorf("Today begins with %+v", ls[0])
	}
	b.check(b.d.ClearHold(cref(cycle), "strip-failed", "strip lot was wet; a second strip of the load reached"))
	if b.state(packs[0]) != work.ShelfReady || b.state(packs[2]) != work.ShelfUsed {
		t.Errorf("cleared: %s and %s", b.state(packs[0]), b.state(packs[2]))
	}
}

// Case 44: fourteen days from sterilization, the last day included; the wrap date does not matter.
func TestCase044Expiry(t *testing.T) {
	for _, c := range []struct{ sterilized, last string }{{"2025-03-01", "2025-03-15"}, {"2024-02-20", "2024-03-05"}, {"2025-12-24", "2026-01-07"}} {
		day, _ := time.Parse(time.DateOnly, c.sterilized)
		if got := work.LastDay(day, 14).Format(time.DateOnly); got != c.last {
			t.Errorf("%s: %s, not %s", c.sterilized, got, c.last)
		}
	}
	b := desk(t)
	packs, _ := b.sterile(1)
	p, err := b.d.Pack(packs[0])
	b.check(err)
	for p.LastDay.Sub(b.clk.Wall) > 36*time.Hour {
		b.clk.Pass(24 * time.Hour)
	}
	if b.state(packs[0]) != work.ShelfFirst {
		t.Errorf("the day before its last: %s", b.state(packs[0]))
	}
	for !sameDay(b.clk.Wall, p.LastDay) {
		b.clk.Pass(time.Hour)
	}
	if b.state(packs[0]) != work.ShelfFirst {
		t.Errorf("on its last day: %s", b.state(packs[0]))
	}
	for sameDay(b.clk.Wall, p.LastDay) {
		b.clk.Pass(time.Hour)
	}
	if b.state(packs[0]) != work.ShelfExpired {
		t.Errorf("the day after: %s", b.state(packs[0]))
	}
	if code(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "x"})) != "pack-not-usable" {
		t.Error("an expired pack was issued")
	}
}

func sameDay(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }

// Case 46: torn on day two: out at once, though the date is good.
func TestCase046TornBeforeExpiry(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	b.clk.Pass(26 * time.Hour)
	b.check(b.d.SpoilPack(packs[0], model.SpoiltTorn))
	if b.state(packs[0]) != work.ShelfSpoilt || b.state(packs[1]) != work.ShelfReady {
		t.Errorf("%s, its sibling %s", b.state(packs[0]), b.state(packs[1]))
	}
}

// Case 47: a single-use wrap a second time, and a cloth at its limit: warned, recorded.
func TestCase047WrapUsedAgain(t *testing.T) {
	b := desk(t)
	f := packForm("x")
	f.Wrap, f.Again = model.WrapPaper, true
	if w, err := b.d.Warnings(f); err != nil || len(w) != 1 || w[0] != "single-use-again" {
		t.Errorf("%v %v", w, err)
	}
	id, _, err := b.d.MakePack(f)
	b.check(err)
	if p, _ := b.d.Pack(id); !p.Made.Again {
		t.Error("not recorded")
	}
	f = packForm("x")
	f.Washes = 75
	if w, _ := b.d.Warnings(f); len(w) != 1 || w[0] != "cloth-worn" {
		t.Errorf("%v", w)
	}
}

// Case 42, at packing: the missing piece is asked for first, and the label says what is not in.
func TestCase042MissingPieceAtPacking(t *testing.T) {
	b := desk(t)
	f := packForm("delivery")
	f.Present = 5
	if _, _, err := b.d.MakePack(f); code(err) != "piece-missing" {
		t.Errorf("%v", err)
	}
	f.Counted = true
	if _, _, err := b.d.MakePack(f); code(err) != "without-what" {
		t.Errorf("%v", err)
	}
	f.Without = "cord scissors"
	_, _, err := b.d.MakePack(f)
	b.check(err)
}

// Rejected or given up: a pack needs a new wrap and a new number.
func TestAPackGoesIntoOneLoadOnly(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	p, _ := b.d.Pack(packs[0])
	if _, err := b.d.LoadOf([]string{p.Label}); code(err) != "pack-loaded-before" {
		t.Errorf("%v", err)
	}
	_, num, err := b.d.MakePack(packForm("cord"))
	b.check(err)
	load, err := b.d.LoadOf([]string{strings.ToLower(strings.ReplaceAll(num.Text, "-", ""))})
	b.check(err)
	if load[0].ID.IsZero() || load[0].Set != "cord" {
		t.Errorf("%+v", load)
	}
	wrong := []byte(num.Text)
	wrong[5] = '0' + (wrong[5]-'0'+1)%10
	if _, err := b.d.LoadOf([]string{string(wrong)}); code(err) != "number-check" {
		t.Errorf("a slip of the pen passed: %v", err)
	}
}

// Numbers: never a look-alike check, never twice, good ones are known as good.
func TestNumbersOfPacks(t *testing.T) {
	b := desk(t)
	seen := map[string]bool{}
	for range 60 {
		_, n, err := b.d.MakePack(packForm("x"))
		b.check(err)
		if seen[n.Text] || strings.ContainsAny(n.Text[len(n.Text)-1:], "O0I1S5B8Z2QG6") {
			t.Fatalf("number %s", n.Text)
		}
		seen[n.Text] = true
		if good, ours := work.GoodNumber(n.Text); !good || !ours {
			t.Fatalf("%s is not known as good", n.Text)
		}
	}
	if good, ours := work.GoodNumber("ND-A0401"); ours || good {
		t.Error("a number of another form was judged")
	}
	if work.SiteCode("Ndovari") != "NDV" || work.SiteCode("Oo") != "XXX" {
		t.Error(work.SiteCode("Ndovari"), work.SiteCode("Oo"))
	}
}

// A register number stays in a sealed note; a name is refused, and the register holds neither.
func TestRegisterNumbersAreSealed(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	for _, bad := range []string{"Maria Lopes", "Fatuma", "12 Amina Yusuf"} {
		if code(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: bad})) != "register-number" {
			t.Errorf("%q was taken for a number", bad)
		}
	}
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "MAT 2026/1187"}))
	p, _ := b.d.Pack(packs[0])
	if n, ok := b.d.UseOf(p.Opened.Use); !ok || n != "MAT 2026/1187" {
		t.Errorf("%q %v", n, ok)
	}
	for _, v := range p.Events {
		if strings.Contains(string(v.Sealed().Body), "1187") {
			t.Error("the number is in the register")
		}
	}
}

// What may not be used is refused once; used all the same it is recorded, for it happened.
func TestUnsterileUseIsRecorded(t *testing.T) {
	b := desk(t)
	id, _, err := b.d.MakePack(packForm("x"))
	b.check(err)
	if code(b.d.OpenPack(id, work.UseForm{Outside: true, Strip: model.StripNot})) != "pack-not-usable" {
		t.Error("an unsterile pack was opened without a word")
	}
	b.check(b.d.OpenPack(id, work.UseForm{Outside: true, Strip: model.StripNot, Number: "77", Anyway: true}))
	p, _ := b.d.Pack(id)
	found := false
	for _, v := range p.Events {
		var i model.Incident
		found = found || (v.Body().Kind == model.KindIncident && v.Body().Decode(&i) == nil && i.Code == model.UnsterileUse)
	}
	if !found {
		t.Error("no incident was recorded")
	}
}

// In doubt about the date the shelf never says "in date".
func TestDoubtfulDateSaysCheckTheLabel(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.d.Close()
	b.clk.Reboot(-10 * 365 * 24 * time.Hour)
	b.open()
	if got := b.state(packs[0]); got != work.ShelfLabel {
		t.Errorf("%s", got)
	}
}

// Finding by any part of number or set, and the shelf in the order of use.
func TestFindingAndOrderOfTheShelf(t *testing.T) {
	b := desk(t)
	first, _ := b.sterile(1)
	b.clk.Pass(4 * 24 * time.Hour)
	second, _ := b.sterile(1)
	_, num, err := b.d.MakePack(packForm("Cord tray"))
	b.check(err)
	if ps, err := b.d.FindPacks("cord", 10); err != nil || len(ps) != 1 || ps[0].Label != num.Text {
		t.Errorf("%v %v", ps, err)
	}
	if ps, _ := b.d.FindPacks(strings.ReplaceAll(num.Text[4:9], "-", ""), 10); len(ps) != 1 {
		t.Errorf("%d packs by a part of the number", len(ps))
	}
	shelf, err := b.d.OnShelf(10)
	b.check(err)
	if len(shelf) != 3 || shelf[0].ID != first[0] || shelf[1].ID != second[0] || shelf[2].State != work.ShelfMade {
		for _, p := range shelf {
			t.Log(p.Label, p.State, p.LastDay)
		}
		t.Error("not first in, first out")
	}
}

// One box finds packs, sets, cycles, people, and a use by its whole register number.
func TestOneBoxFindsEverything(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	_, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "Delivery tray", Pieces: []model.Piece{{Name: "x", Count: 1}}})
	b.check(err)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "A/1187"}))
	f, err := b.d.Find("deliv", 50)
	b.check(err)
	if len(f.Packs) != 2 || len(f.Sets) != 1 || len(f.Uses) != 0 {
		t.Errorf("%d packs, %d sets, %d uses", len(f.Packs), len(f.Sets), len(f.Uses))
	}
	if f, _ := b.d.Find("1", 50); len(f.Cycles) != 1 {
		t.Errorf("%d cycles numbered 1", len(f.Cycles))
	}
	if f, _ := b.d.Find("asha", 50); len(f.People) != 1 {
		t.Errorf("%d people", len(f.People))
	}
	if f, _ := b.d.Find("a/1187", 50); len(f.Uses) != 1 || f.Uses[0].ID != packs[0] {
		t.Errorf("%d uses", len(f.Uses))
	}
	if f, _ := b.d.Find("1187", 50); len(f.Uses) != 0 {
		t.Error("a part of a register number found its use")
	}
}

// packOf is a pack as its form makes it.
func packOf(t *testing.T, f work.PackForm) register.Pack {
	t.Helper()
	b := desk(t)
	id, _, err := b.d.MakePack(f)
	b.check(err)
	p, err := b.d.Pack(id)
	b.check(err)
	return p.Pack
}
