package work_test

import (
	"os"
	"slices"
	"testing"

	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Case 49: laptop and tablet of one clinic number packs offline for a week. Each has its own letter, so no number is given twice; when their
// entries come together every pack is found, and a stopped load holds its packs whichever device made them.
func TestCase049TwoDevicesNumberApart(t *testing.T) {
	b := desk(t)
	laptop, lap := b.packed(40)
	b.check(b.d.Close())
	t.Setenv("MVUKE_STATE", t.TempDir()) // the tablet: a copy of the folder on another machine gets a stream and a letter of its own
	dir := t.TempDir()
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	tablet, err := work.Open(dir, work.Options{Clock: b.clk})
	b.check(err)
	if tablet.Memory != home.MemoryNone {
		t.Fatalf("the copy was not noticed: %v", tablet.Memory)
	}
	people, err := tablet.People()
	b.check(err)
	tablet.Act(people[0].ID)
	b.d = tablet
	_, tab := b.packed(40)
	packs, cycle := b.sterile(3)
	seen := map[string]bool{}
	for _, n := range append(lap, tab...) {
		if seen[n] {
			t.Errorf("%s was given twice", n)
		}
		seen[n] = true
	}
	vs, err := tablet.Store.Last(100000)
	b.check(err)
	b.check(tablet.Close())
	t.Setenv("MVUKE_STATE", t.TempDir())
	b.open() // the laptop again, and what the tablet wrote comes to it
	t.Cleanup(func() { b.d.Close() })
	b.check(b.d.Store.Append(vs...))
	for _, n := range append(lap, tab...) {
		if ids, err := b.d.ByNumber(n); err != nil || len(ids) != 1 {
			t.Errorf("%s: %d packs, %v", n, len(ids), err)
		}
	}
	b.check(b.d.Stop(cycle, "test"))
	for _, id := range packs {
		if a, err := b.d.Usable(id); err != nil || a.Word != register.Held {
			t.Errorf("%s %v", a.Word, err)
		}
	}
	if len(laptop) != 40 {
		t.Error(len(laptop))
	}
}

// packed packs n sets and gives their numbers.
func (b *bench) packed(n int) (ids []model.ID, numbers []string) {
	b.t.Helper()
	for range n {
		id, num, err := b.d.MakePack(packForm("delivery"))
		b.check(err)
		ids, numbers = append(ids, id), append(numbers, num.Text)
	}
	return ids, numbers
}

// Case 50: a label printed again is marked as a copy; there is one pack in the books.
func TestCase050LabelPrintedTwice(t *testing.T) {
	b := desk(t)
	ids, numbers := b.packed(1)
	for want := int64(1); want <= 3; want++ {
		if got, err := b.d.Printed(ids[0]); err != nil || got != want {
			t.Errorf("print %d calls itself copy %d, %v", want, got, err)
		}
	}
	if ps, err := b.d.FindPacks(numbers[0], 10); err != nil || len(ps) != 1 || ps[0].Prints != 3 {
		t.Errorf("%d packs in the books, %v", len(ps), err)
	}
}

// Case 91: a nurse added at the clinic with no network acts there; her acts are accepted where the entries arrive later, in whatever order, and the name of
// a leaver stays on old acts and is gone from the tiles.
func TestCase091NewNurseIsKnownAtTheOffice(t *testing.T) {
	b := desk(t)
	b.check(b.d.Close())
	office := t.TempDir()
	b.check(os.CopyFS(office, os.DirFS(b.dir)))
	b.open()
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleReleaser}})
	b.check(err)
	b.d.Act(nurse)
	packs, _ := b.sterile(1)
	people, err := b.d.People()
	b.check(err)
	b.d.Act(people[0].ID)
	b.check(b.d.RetirePerson(nurse, "moved"))
	vs, err := b.d.Store.Last(100000)
	b.check(err)
	slices.Reverse(vs)
	t.Setenv("MVUKE_STATE", t.TempDir())
	d, err := work.Open(office, work.Options{Clock: b.clk})
	b.check(err)
	defer d.Close()
	b.check(d.Store.Append(vs...))
	p, err := d.Pack(packs[0])
	b.check(err)
	if p.State != work.ShelfReady || d.Person(p.MadeBy.Body().Person).Name != "Neema" {
		t.Errorf("at the office her pack is %s, packed by %q", p.State, d.Person(p.MadeBy.Body().Person).Name)
	}
	tiles, err := d.People()
	b.check(err)
	for _, x := range tiles {
		if x.ID == nurse && !x.Gone {
			t.Error("a leaver is still on the tiles")
		}
	}
}
