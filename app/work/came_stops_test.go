package work_test

import (
	"slices"
	"testing"

	"mvuke/app/work"
	"mvuke/model"
)

// What a stick stops is what Today stops since: a torn pack stops nothing else, also where its making is told of with it; a load that is stopped is named where a pack of it lies and at the office
// by its clinic, once; a strip that failed where a pack was lent stops the load at home.
func TestWhatAStickStops(t *testing.T) {
	codes := func(in work.BroughtIn) (out []string) {
		for _, l := range in.Stopped {
			out = append(out, l.Code)
		}
		for _, s := range in.Worse {
			out = append(out, "at "+s.Name)
		}
		if in.Stops() != (len(out) > 0) {
			t.Errorf("stops: %v, and names %q", in.Stops(), out)
		}
		return out
	}
	x, b, c, packs, load := neighbours(t)
	carries := func(what string, from, to house, want ...string) {
		t.Helper()
		in := x.carry(from, to)
		if got := codes(in); !slices.Equal(got, want) {
			t.Errorf("%s: %q", what, got)
		}
	}
	torn, _ := b.sterile(1)
	b.check(b.d.SpoilPack(torn[0], model.SpoiltTorn))
	carries("a torn pack at the office", b, x.office)
	carries("a torn pack at the neighbour's", x.office, c)

	b.check(b.d.Stop(load, "the card was of another height"))
	carries("a stopped load at the office", b, x.office, "at "+b.name)
	carries("a pack of it at the neighbour's", x.office, c, "borrowed-held")
	carries("the same again at the office", b, x.office)
	carries("the same again at the neighbour's", x.office, c)
	b.check(b.d.ClearHold(cref(load), work.HoldStopped, "it was the right card"))
	carries("what was cleared, at the office", b, x.office)

	x.carry(x.office, c)
	c.check(c.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot}))
	carries("a failed strip at the office", c, x.office, "at "+b.name)
	carries("a failed strip at home", x.office, b, "held")
}

// One load is freed and another stopped, on one stick: the office counts as many as before, and is told all the same.
func TestAStickThatClearsAndStops(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, one := b.sterile(1)
	_, two := b.sterile(1)
	b.check(b.d.Stop(one, "wet"))
	x.carry(b, x.office)
	b.check(b.d.ClearHold(cref(one), work.HoldStopped, "it was dry"))
	b.check(b.d.Stop(two, "the card was of another height"))
	if in := x.carry(b, x.office); !in.Stops() {
		t.Errorf("the stick stopped load two, and the office is told of nothing: %+v %+v", in.Stopped, in.Worse)
	}
}

// A called-back pack was opened on somebody else while the clinician was told of the first: the line of the recall reads as before, and the stick says so all the same.
func TestAStickWithAnotherPatientOfARecall(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(3)
	use := func(number string, anyway bool) work.UseForm {
		return work.UseForm{Outside: true, Strip: model.StripReached, Number: number, Anyway: anyway}
	}
	b.check(b.d.OpenPack(packs[0], use("2026/77", false)))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.SetAside(packs[1]))
	b.check(b.d.SetAside(packs[2]))
	tablet := x.twin(b)
	b.check(b.d.TellStock(model.StockTape, 3, true))
	x.carry(b, tablet)
	x.carry(tablet, b)
	tablet.check(tablet.d.TellRecall(id, model.SoughtClinician, packs[:1], "officer: 2026/77"))
	tablet.check(tablet.d.OpenPack(packs[1], use("2026/78", true)))
	if in := x.carry(tablet, b); !in.Stops() {
		t.Error("a called-back pack was opened on somebody else, and of the stick it is said that nothing was stopped")
	}
}

// Spores grow in a second load of a pot that is stopped already: the stick names that load, at the office and at its clinic, and says nothing of it where it concerns nobody.
func TestAStickNamesASecondGrowth(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	_, one := b.sterile(1)
	_, two := b.sterile(1)
	first, second := b.spore(one, zyear, true), b.spore(two, zyear, true)
	_, err := b.d.ReadSpore(first, model.SporeRead{Grew: true})
	b.check(err)
	x.carry(b, x.office)
	x.carry(x.office, c)
	_, err = b.d.ReadSpore(second, model.SporeRead{Grew: true})
	b.check(err)
	in := x.carry(b, x.office)
	named := func(in work.BroughtIn) bool {
		return slices.ContainsFunc(in.Stopped, func(l work.Line) bool { return l.Cycle == two }) || slices.ContainsFunc(in.Worse, func(w work.Worse) bool { return slices.Contains(w.Loads, two) })
	}
	if !in.Stops() || !named(in) {
		t.Errorf("the office: %+v %+v", in.Stopped, in.Worse)
	}
	if in := x.carry(x.office, c); named(in) {
		t.Errorf("a clinic that has nothing of it: %+v", in.Stopped)
	}
}
