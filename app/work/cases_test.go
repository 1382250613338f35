package work_test

import (
	"crypto/ed25519"
	"strings"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

func TestCase020ReferencesAreNamedAndVerdictsDoNotFlip(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	c, _ := b.d.Cycle(id)
	for range 3 {
		if r, err := b.d.Judge(c); err != nil || r.Verdict != g.Result.Verdict || r.F0Milli != g.Result.F0Milli {
			t.Error("one cycle, two verdicts", err)
		}
	}
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		if s := w.Say("verdict.f0", "29.3"); !strings.Contains(strings.ReplaceAll(s, ",", "."), "121.1") {
			t.Errorf("%s: F0 without its reference: %s", lang, s)
		}
		if s := w.Say("verdict.equivalent", "30.0"); !strings.Contains(s, "121") {
			t.Errorf("%s: %s", lang, s)
		}
	}
}

func TestCase035StockOutDayIsCounted(t *testing.T) {
	b := desk(t)
	p := b.place()
	packs := demo.Packs(2, 1)
	packs[0].Tape = false // strip inside: may go in
	_, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: packs, WaterML: 2600})
	b.check(err)
	if vs, err := b.d.Store.ByKind(model.KindStockOut); err != nil || len(vs) != 1 {
		t.Errorf("%d stock-out days, %v", len(vs), err)
	}
}

func TestCase040BoiledIsNoCycle(t *testing.T) {
	b := desk(t)
	b.check(b.d.Boiled("two forceps", 20))
	if c := code(b.d.Boiled(" ", 20)); c != "what-missing" {
		t.Error(c)
	}
	if ids, _ := b.d.LatestCycles(5); len(ids) != 0 {
		t.Error("a boiling counts as a cycle")
	}
}

func TestCase042MissingPieceIsAskedFirst(t *testing.T) {
	b := desk(t)
	p := b.place()
	packs := demo.Packs(1, 1)
	packs[0].Listed, packs[0].Present = 6, 5
	f := work.BeginForm{Item: model.Wrapped, Packs: packs, WaterML: 2600}
	if _, _, err := b.d.Begin(p.Pots[0], p.Site, f); code(err) != "piece-missing" {
		t.Error(err)
	}
	f.Packs[0].Counted = true
	_, _, err := b.d.Begin(p.Pots[0], p.Site, f)
	b.check(err)
}

func TestCase044LastDayOfUse(t *testing.T) {
	for from, want := range map[string]string{"2025-03-01": "2025-03-15", "2024-02-20": "2024-03-05", "2025-12-24": "2026-01-07"} {
		day, _ := time.Parse(time.DateOnly, from)
		if got := work.LastDay(day, 14).Format(time.DateOnly); got != want {
			t.Errorf("%s + 14 is %s, want %s", from, got, want)
		}
	}
}

// A device whose clock runs three days off writes into the same register: nothing is refused, its
// holds count, and durations stay what they were.
func TestCase088ClocksThreeDaysApart(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	b.check(b.d.Release(id, ""))
	siteKey, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	site := b.authorOf(siteKey)
	other := entry.NewAuthor(ed25519.NewKeyFromSeed(make([]byte, 32)), b.d.Store.District())
	early := b.clk.Now()
	early.Wall = early.Wall.Add(-72 * time.Hour)
	grant, err := site.Sign(entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: other.Key(), Letter: "C", Caps: model.CapRecord}}, early, model.ClockGood)
	b.check(err)
	c, _ := b.d.Cycle(id)
	hold, err := other.Sign(entry.Draft{Kind: model.KindHold, Payload: model.Hold{Code: "incident"}, Targets: []model.Ref{c.State.Ref}}, early, model.ClockGood)
	b.check(err)
	b.check(b.d.Store.Append(grant, hold))
	c, _ = b.d.Cycle(id)
	r, err := b.d.Judge(c)
	if err != nil || r.HeldMilli != g.Result.HeldMilli {
		t.Errorf("the other clock changed a duration: %d", r.HeldMilli)
	}
	if word(b, id) != register.Held {
		t.Error("a hold three days in the past was hidden by the clock")
	}
}

func TestCase098LineToCopy(t *testing.T) {
	day := time.Date(2026, 12, 24, 9, 0, 0, 0, time.UTC)
	line := work.CopyLine(model.LoadPack{Label: "ND-A0401"}, 12, day, 14)
	bare, letter, _ := strings.Cut(line, " · 2027-01-07 · ")
	if bare != "ND-A0401 · L12 · 2026-12-24" || len(letter) != 1 || letter != model.CheckLetter(bare+"2027-01-07") {
		t.Errorf("%q", line)
	}
	if now := work.CopyLine(model.LoadPack{Label: "ND-A0401"}, 12, day, 0); strings.Contains(now, "2027") {
		t.Errorf("unwrapped items have no last day: %q", now)
	}
}
