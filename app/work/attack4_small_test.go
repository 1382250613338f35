package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/paper"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
)

// Two decimals.
func TestBelowTheLineSays121(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	_, cycle := b.ranAt(129_400)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	r, err := b.d.Judge(c)
	b.check(err)
	i := slices.IndexFunc(r.Reasons, func(x model.Reason) bool { return x.Code == assess.BelowLine })
	if i < 0 || r.Reasons[i].Args[1] != "120.99" {
		t.Errorf("129.40 on a line of 129.50: %+v", r.Reasons)
	}
}

// An old search that finds a note of a pack that is not here.
func TestSearchAfterARestore(t *testing.T) {
	b := desk(t)
	first, _ := b.sterile(1)
	b.check(b.d.OpenPack(first[0], packUse()))
	path, _, err := b.d.Backup()
	b.check(err)
	b.clk.Pass(time.Hour)
	second, _ := b.sterile(1)
	b.check(b.d.OpenPack(second[0], packUse()))
	b.check(b.d.Close())
	_, _, err = work.Restore(path, b.dir, b.clk.Wall)
	b.check(err)
	b.open()
	f, err := b.d.Find("1187", 20)
	if err != nil || len(f.Uses) == 0 {
		t.Error("the use of a pack that is here is not found by its register number")
	}
}

// A release that no longer counts, on paper.
func TestToConfirmOnPaper(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	b.put(b.manager(93), entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(cycle)}, Payload: model.Readings{List: []model.Reading{{At: 50 * 60000, NeedleMilli: 60_000}}}})
	c, err := b.d.Cycle(cycle)
	b.check(err)
	w := assets.For("en")
	if got := paper.Settled(b.d, c, w); !c.ToConfirm || got != "to confirm" {
		t.Errorf("the release counts no more (%v), and the sheet says: %s", c.ToConfirm, got)
	}
}

// Told of a pack before it was used.
func TestToldBeforeTheUse(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.grows(cycle)
	r := b.recallOf()
	if err := b.d.TellRecall(r.ID, model.SoughtClinician, packs, "clinical officer"); code(err) != "recall-packs" {
		t.Errorf("told of a use that is still to come: %v", err)
	}
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Anyway: true}))
	r = b.recallOf()
	if r.Untold == 0 {
		t.Error("used after the clinician was told, and nobody is owed")
	}
}

// Packs whose last day is over lie on the shelf like the others: Today counts them.
func TestExpiredPacksStandOnToday(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	if b.line("expired") {
		t.Fatal("they are fresh")
	}
	for range 20 { // a device that writes nothing for months has its date in doubt
		b.clk.Pass(20 * 24 * time.Hour)
		b.check(b.d.Boiled("forceps", 20))
	}
	if s := b.state(packs[0]); s != work.ShelfExpired || !b.line("expired") {
		t.Errorf("it is %s, and Today says so: %v", s, b.line("expired"))
	}
	for _, p := range packs {
		b.check(b.d.SpoilPack(p, model.SpoiltOpened))
	}
	if b.line("expired") {
		t.Error("they were unwrapped")
	}
}
