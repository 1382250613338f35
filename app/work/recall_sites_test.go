package work_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// twin begins a second device of a clinic from its folder.
func (x *districtOf) twin(h house) house {
	x.t.Helper()
	dir := filepath.Join(x.t.TempDir(), "tablet")
	h.check(h.d.Close())
	h.check(os.CopyFS(dir, os.DirFS(h.dir)))
	h.open()
	out := house{&bench{t: x.t, dir: dir, clk: h.clk}, h.name + ", tablet"}
	out.open()
	x.t.Cleanup(func() { _ = out.d.Close() })
	return out
}

// The laptop of B raises the recall; the tablet of B had recorded that a pack went to C. C hears of the recall first, and holds the pack from the moment that it hears of the pack.
func TestARecallThatComesBeforeTheTransfer(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	packs, cycle := b.sterile(2)
	tablet := x.twin(b)
	tablet.check(tablet.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{cycle}})
	b.check(err)
	x.carry(b, x.office)
	x.carry(x.office, c) // the laptop's words; of the tablet's nobody has heard
	x.carry(tablet, x.office)
	x.carry(x.office, c)
	p, err := c.d.Pack(packs[0])
	c.check(err)
	if p.State != work.ShelfHeld || !p.Borrowed() {
		t.Fatalf("%s, borrowed %v", p.State, p.Borrowed())
	}
	if _, ok := lineOf(t, c.bench, "borrowed-held"); !ok {
		t.Error("Today at C does not say so")
	}
	c.check(c.d.SetAside(packs[0]))
	x.carry(c, x.office)
	x.carry(x.office, b) // the answer comes before B's laptop has heard from its own tablet
	r, err := b.d.Recall(id)
	b.check(err)
	if s := r.Square(packs[0]); s == nil || !s.Found || s.At != work.AtAside || s.Site.IsZero() {
		t.Errorf("%+v", s)
	}
}

// Both devices of a clinic call the same load back: both recalls stand, the load is held until both are answered, and everybody sees the same.
func TestARecallRaisedTwice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, cycle := b.sterile(1)
	tablet := x.twin(b)
	for _, h := range []house{b, tablet} {
		_, err := h.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{cycle}})
		h.check(err)
	}
	x.carry(tablet, b)
	x.carry(b, tablet)
	all, err := b.d.Recalls()
	b.check(err)
	if len(all) != 2 {
		t.Fatalf("%d recalls", len(all))
	}
	b.check(b.d.CloseRecall(all[0].ID, "found"))
	b.check(b.d.ClearHold(cref(cycle), "recalled", "the label was right"))
	if s := b.state(packs[0]); s != work.ShelfReady {
		t.Errorf("one clear by name names both holds: %s", s)
	}
	x.carry(b, tablet)
	if s := tablet.state(packs[0]); s != work.ShelfReady {
		t.Errorf("the tablet has %s", s)
	}
	x.same(b, tablet)
}

// What a device called back before it was taken out stays called back, and so does what it calls back after.
func TestARecallByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, cycle := b.sterile(1)
	tablet := x.twin(b)
	x.carry(tablet, b)
	devices, err := b.d.Devices()
	b.check(err)
	for _, dev := range devices {
		if s, err := b.d.SiteID(); err == nil && dev.Site == s && !dev.Own && !dev.Removed {
			b.check(b.d.RemoveDevice(dev.Stream, time.Time{}, "stolen"))
		}
	}
	_, err = tablet.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{cycle}})
	tablet.check(err)
	x.clear()
	site, err := b.d.SiteID()
	b.check(err)
	_, err = tablet.d.TakeOut(site, x.stick, false, nil)
	tablet.check(err)
	_, err = b.d.BringIn(x.stick)
	b.check(err)
	if s := b.state(packs[0]); s != work.ShelfHeld {
		t.Errorf("a removed device called its load back, and a pack is %s", s)
	}
}

// Case 100 (common practice): nothing vanishes from a clinic by itself; a load of nine years ago can still be called back, pack by pack.
func TestCase100AnOldLoadIsStillFound(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(2)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/77"}))
	b.clk.Wall = b.clk.Wall.AddDate(9, 0, 0)
	b.check(b.d.Close())
	b.open()
	b.check(b.d.AnswerDate(b.clk.Wall))
	b.sterile(1)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "a letter from the maker", Loads: []model.ID{cycle}})
	b.check(err)
	r, err := b.d.Recall(id)
	b.check(err)
	if r.Total != 2 || r.Square(packs[0]).Use != "2026/77" || r.Square(packs[1]).At != work.AtShelf {
		t.Errorf("%d packs, %+v", r.Total, r.Loads)
	}
}

// The office calls a clinic's load back: it stands with that clinic at the office, on Today of the clinic, which has the shelves and answers; and the office, which opened it, closes it.
func TestARecallThatTheOfficeOpened(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	packs, load := b.sterile(2)
	x.carry(b, x.office)
	recall, err := x.office.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Loads: []model.ID{load}, Reason: "the lot of strips was called back by its maker"})
	x.office.check(err)
	recallsAt := func(name string) int {
		t.Helper()
		all, err := x.office.d.Standings()
		x.office.check(err)
		for _, s := range all {
			if s.Name == name {
				return s.Recalls
			}
		}
		t.Fatal("no ", name)
		return 0
	}
	if recallsAt("Clinic B") != 1 || recallsAt("Clinic C") != 0 {
		t.Fatalf("%d recalls at B, %d at C", recallsAt("Clinic B"), recallsAt("Clinic C"))
	}
	lines, err := x.office.d.Today()
	x.office.check(err)
	if i := slices.IndexFunc(lines, func(l work.Line) bool { return l.Code == "recall" && l.Cycle == recall }); i < 0 || !lines[i].Elsewhere {
		t.Errorf("%+v", lines)
	}
	x.carry(x.office, b)
	if _, ok := lineOf(t, b.bench, "recall"); !ok {
		t.Fatal("Today of the clinic does not say so")
	}
	if r := b.recallOf(); !r.About(b.place().ID) || r.Site == b.place().ID || r.Total != 2 {
		t.Fatalf("%+v", r)
	}
	b.check(b.d.TellRecall(recall, model.SoughtSeen, packs, ""))
	x.carry(b, x.office)
	r, err := x.office.d.Recall(recall)
	x.office.check(err)
	if r.Found != 2 {
		t.Fatalf("the office hears of %d packs", r.Found)
	}
	if err := b.d.CloseRecall(recall, ""); err == nil {
		t.Error("the clinic closed what the office opened")
	}
	x.office.check(x.office.d.CloseRecall(recall, ""))
	if recallsAt("Clinic B") != 0 {
		t.Error("it is over, and still stands with the clinic")
	}
}
