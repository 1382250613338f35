package work_test

import (
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/tables"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Rejecting (recalling) a load whose packs went out or were used: Today names none of them.
func TestAttackRejectHidesWhoGotIt(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(3)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/77"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	b.check(b.d.Stop(c, "strip doubtful"))
	if _, ok := lineOf(t, b, "stopped-out"); !ok {
		t.Fatal("no line when stopped")
	}
	b.check(b.d.Reject(c, "recall"))
	if l, ok := lineOf(t, b, "stopped-out"); !ok {
		ls, _ := b.d.Today()
		t.Errorf("the load is rejected: the pack used on 2026/77 and the one on the ward are gone from Today: %+v %+v", l, ls)
	}
}

// One pack found torn after it was issued.
func TestAttackOnePackBadAfterIssue(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	checks, _ := demo.GoodChecks(b.d, c)
	checks[0].WrapOK = false
	b.check(b.d.Unload(c, checks, true))
	if _, ok := lineOf(t, b, "stopped-out"); !ok {
		t.Errorf("%s on the ward, and Today says nothing", b.state(packs[0]))
	}
}

// A taped pack with no strip is said to have no tape: nothing was seen, and it is released.
// Commissioning: unwrapped cycles without a test pack, rejected loads, loads that grew spores prove the pot.
func TestAttackProvenByRejected(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "test"}))
	for i := range 3 {
		id, _ := b.cycle(demo.Burn{Packs: 2, First: 1 + 10*i, Strip: true})
		b.check(b.d.Reject(id, "all strips inside the packs pale"))
	}
	if p, _ := b.d.Proven(b.pot().ID); p.Good > 0 {
		id, _ := b.cycle(demo.Burn{Packs: 1, First: 60, Strip: true})
		t.Errorf("%+v by three rejected loads; release: %v", p, b.d.Release(id, ""))
	}
}

func TestAttackProvenByWetAndGrown(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 1, Source: "test"}))
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	_, err := b.d.ReadSpore(b.spore(id, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	if p, _ := b.d.Proven(b.pot().ID); p.Good > 0 {
		t.Errorf("%+v by a cycle in which spores grew", p)
	}
}

func TestAttackProvenByUnwrapped(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 1, Source: "test"}))
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Unwrapped, Packs: []model.LoadPack{{Label: "U1", Set: "s"}}, WaterML: 2600})
	b.check(err)
	for i, s := range []model.StepCode{model.StepLit, model.StepVentStart, model.StepVentEnd} {
		b.clk.Pass(time.Duration(3+4*i) * time.Minute)
		b.check(b.d.Step(id, s, nil))
	}
	g := b.goOn(id, 7, model.Stayed)
	t.Log(g.Result.Verdict)
	if p, _ := b.d.Proven(b.pot().ID); p.Good > 0 {
		t.Errorf("%+v by an unwrapped load with no test pack in it", p)
	}
}

// The pot whose maximum is not known: each lift may be a tenth above the last one found.
func TestAttackValveCreeps(t *testing.T) {
	b := desk(t)
	a := demo.Answers("en")
	a.Pot.LimitPa, a.Pot.ValvePa = 0, 160_000
	b.check(b.d.Correct(b.pot(), b.place(), a))
	for _, n := range []int64{174_000, 190_000, 205_000, 220_000} {
		if n > b.pot().Gauge.SpanMilli {
			break
		}
		b.check(b.d.LiftValve(b.pot(), true, n))
	}
	if p := b.pot(); !p.Out && p.Looks.ValvePa > 176_000 {
		t.Errorf("plate 160 kPa, lifted at %d: in service, limit %d", p.Looks.ValvePa, b.plan().Frozen.LimitMilli)
	}
}

func TestAttackUnwrapForgotten(t *testing.T) {
	b := desk(t)
	b.sterile(1)
	_, num, err := b.d.MakePack(packForm("delivery"))
	b.check(err)
	load, err := b.d.LoadOf([]string{num.Text})
	b.check(err)
	c, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, load)
	b.check(err)
	b.check(b.d.Reject(c, "x"))
	if _, ok := lineOf(t, b, "unwrap"); !ok {
		t.Fatal()
	}
	for range 12 {
		b.ztrial()
	}
	if _, ok := lineOf(t, b, "unwrap"); !ok {
		t.Error("after twelve more cycles the rejected pack with turned tape is forgotten")
	}
}

func TestAttackUnwrapOneBadPack(t *testing.T) {
	b := desk(t)
	var labels []string
	for range 2 {
		_, num, err := b.d.MakePack(packForm("delivery"))
		b.check(err)
		labels = append(labels, num.Text)
	}
	load, err := b.d.LoadOf(labels)
	b.check(err)
	c, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, load)
	b.check(err)
	checks, _ := demo.GoodChecks(b.d, c)
	checks[0].Dry = false
	b.check(b.d.Unload(c, checks, true))
	b.check(b.d.Release(c, ""))
	if _, ok := lineOf(t, b, "unwrap"); !ok {
		t.Errorf("%s, and nobody is told to unwrap it", b.state(load[0].ID))
	}
}

// The copy warning goes with the next start.
func TestAttackCopyOlderForgotten(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	path, _, err := b.d.Backup()
	b.check(err)
	b.check(b.d.Stop(c, "spores grew"))
	b.check(b.d.Close())
	_, _, err = work.Restore(path, b.dir, b.clk.Wall)
	b.check(err)
	b.open()
	if _, ok := lineOf(t, b, "copy-older"); !ok {
		t.Fatal("not told once")
	}
	b.check(b.d.Close())
	b.open()
	if _, ok := lineOf(t, b, "copy-older"); !ok {
		t.Errorf("started once more: nobody is told that a stop may be missing, and the pack is %s", b.state(packs[0]))
	}
}

// What a person said of the date counts for the shelf only.
func TestAttackDateSaidIsNotUsed(t *testing.T) {
	b := desk(t)
	f := b.good()
	_, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 1500, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	b.check(b.d.CareDone(b.pot(), model.CareSeal, "", ""))
	_, _, err = b.d.MakeCard(b.pot(), b.place().Site, model.Wrapped)
	b.check(err)
	_, c := b.sterile(1)
	b.zneg(b.spore(c, zyear, true))
	now := b.clk.Wall.Add(200 * 24 * time.Hour)
	b.d.Close()
	b.clk.Reboot(200 * 24 * time.Hour)
	b.clk.Wall = time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC)
	b.open()
	b.check(b.d.AnswerDate(now))
	if code(b.d.Compare(b.pot(), b.place().Site, f)) != "reference-overdue" {
		t.Error("reference due half a year ago by the date that was said: it compares")
	}
	if x := b.task(model.CareSeal); !x.Due() {
		t.Errorf("care: %+v", x)
	}
	if _, ok := lineOf(t, b, "spore-overdue"); !ok {
		t.Error("spore test 200 days old is not overdue")
	}
	if _, old, _ := b.d.CardStale(b.pot(), b.place().Site); !old {
		t.Error("card void since 110 days holds")
	}
}

// Entries that came before the grant of their device: the lists do not learn of them.
func TestAttackGrantComesLater(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	a := b.other(71, false)
	b.put(a, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{pref(packs[0])}, Payload: model.SetCounted{Pack: packs[0], Present: 1, Listed: 6}})
	b.put(b.authorOf(b.siteKey()), entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: a.Key(), Letter: "X", Caps: model.CapRecord}})
	p, err := b.d.Pack(packs[0])
	b.check(err)
	if _, ok := lineOf(t, b, "piece-missing"); !ok && p.Missing() {
		t.Error("the pack's page says that a piece is missing, Today does not")
	}
	if r, err := b.d.Store.Check(func(int64, int64) {}); err != nil || !r.OK() {
		t.Error(r.Faults, err)
	}
}

func TestAttackCycleBeforeGrant(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	a := b.other(72, false)
	b.put(a, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{{Noun: model.NounCycle, ID: c}}, Payload: model.Hold{Code: "stopped"}})
	b.put(b.authorOf(b.siteKey()), entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: a.Key(), Letter: "X", Caps: model.CapRecord}})
	_, held := lineOf(t, b, "held")
	_, out := lineOf(t, b, "stopped-out")
	if b.state(packs[0]) == work.ShelfHeld && (!held || !out) {
		t.Errorf("the pack is held and on the ward; Today: held %v, out %v", held, out)
	}
}

// A manager who closed a search is removed: the search is open again, Today does not know.
func TestAttackPieceLostByRemoved(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6}))
	p, _ := b.d.Pack(packs[0])
	m := b.manager(73)
	b.put(m, entry.Draft{Kind: model.KindPieceLost, Targets: []model.Ref{pref(packs[0])}, Relies: []entry.ID{p.CountedBy.ID()}, Payload: model.PieceLost{Reason: "x"}})
	b.remove(m)
	p, _ = b.d.Pack(packs[0])
	if _, ok := lineOf(t, b, "piece-missing"); !ok && p.Missing() {
		t.Error("the search was closed by a device that is removed: the pack says missing, Today does not")
	}
}

// Removal that waits for an entry before it does not count.
func TestAttackRemovalInTheWaitingRoom(t *testing.T) {
	b := desk(t)
	m := b.manager(74)
	by := b.authorOf(b.siteKey())
	skip, err := by.Sign(entry.Draft{Kind: model.KindPerson, Payload: model.Person{Name: "y"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	by.Advance(skip)
	rm, err := by.Sign(entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: m.Stream[:]}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	r, err := b.d.Store.Receive([]entry.Verified{rm})
	b.check(err)
	s := b.place().Site
	s.HeightM = 0
	st, _ := b.d.Store.ByKind(model.KindSite)
	before := b.plan().Frozen.RestartMilli
	b.put(m, entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounSite, ID: b.place().ID}}, Replaces: []entry.ID{st[0].ID()}, Payload: s})
	if now := b.plan().Frozen.RestartMilli; now < before {
		t.Errorf("the removal waits (%d), the removed device moved the line from %d to %d", r.Waiting, before, now)
	}
}

// The counter runs over.
func TestAttackLamportRunsOver(t *testing.T) {
	for _, top := range []uint64{math.MaxUint64 - 1, math.MaxInt64 - 1} {
		func() {
			defer func() {
				if r := recover(); r != nil {
					t.Error(top, r)
				}
			}()
			b := desk(t)
			packs, c := b.sterile(1)
			a := b.other(75, false)
			a.Lamport = top
			v, err := a.Sign(entry.Draft{Kind: model.KindNote, Payload: map[int]int{1: 1}}, b.clk.Now(), model.ClockGood)
			if err != nil {
				t.Log(top, "sign", err)
				return
			}
			if err := b.d.Store.Append(v); err != nil {
				t.Log(top, "append", err)
				return
			}
			b.d.Close()
			b.open()
			b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyWitness, On: false, Source: "x"}))
			b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyWitness, On: true, Source: "x"}))
			r, _ := b.d.Rules()
			vs, _ := b.d.Store.ByKind(model.KindPolicy)
			t.Log(top, vs[len(vs)-1].Body().Lamport)
			if !r.On(model.PolicyWitness) {
				t.Errorf("%d: the policy that was stated last is not in force", top)
			}
			b.check(b.d.Stop(c, "x"))
			if b.state(packs[0]) != work.ShelfHeld {
				t.Error(b.state(packs[0]))
			}
		}()
	}
}

func TestAttackNeverInOtherLanguage(t *testing.T) {
	fr, en := assets.For("fr"), assets.For("en")
	bad := strings.TrimSpace(strings.Split(fr.Say1("sets.never"), ",")[0])
	_, p, _ := tables.ReadList("sets", strings.NewReader("set,piece\nX,"+bad+"\n"), en)
	if len(p) == 0 {
		t.Errorf("%q is refused in French and taken in English", bad)
	}
}

func TestAttackTwoAtOnce(t *testing.T) {
	b := desk(t)
	var wg sync.WaitGroup
	var mu sync.Mutex
	seen := map[string]int{}
	for range 8 {
		wg.Go(func() {
			_, n, err := b.d.MakePack(packForm("delivery"))
			mu.Lock()
			defer mu.Unlock()
			if err == nil {
				seen[n.Text]++
			}
		})
	}
	wg.Wait()
	for n, k := range seen {
		if k > 1 {
			t.Errorf("%s given %d times", n, k)
		}
	}
}

func TestAttackStricter(t *testing.T) {
	for _, c := range []string{model.PolicyPackMass, model.PolicyPackDensity, model.PolicyPackLength, model.PolicyCare(model.CareSeal), model.PolicyCare(model.CareValve)} {
		a, z := model.Policy{Code: c, On: true, Value: 10}, model.Policy{Code: c, On: true, Value: 300}
		if register.StricterPolicy(a, z).Value != 10 {
			t.Errorf("%s: 300 is called stricter than 10", c)
		}
	}
}

func TestAttackDryTenCyclesAgo(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	for range 10 {
		b.ztrial()
	}
	b.check(b.d.Report(work.IncidentForm{Code: model.BoiledDry, Cycle: id, Text: "found later"}))
	if _, ok := lineOf(t, b, "care-now"); !ok {
		t.Error("boiled dry, told ten cycles later: nothing follows for the pot")
	}
}
