package work_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

func TestACopyLowersNoMark(t *testing.T) {
	for _, how := range []string{"correct", "told", "compared", "policy", "removed-honest"} {
		b := desk(t)
		at := b.own()
		old := b.plan().Frozen
		switch how {
		case "correct", "removed-honest":
			a := demo.Answers("en")
			a.Site = b.place().Site
			a.Site.HeightM = 2250
			b.check(b.d.Correct(b.pot(), b.place(), a))
		case "told":
			_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 2250})
			b.check(err)
		case "compared":
			f := b.good()
			f.Points = []work.ComparePoint{{Shown: 145, True: 127}, {Shown: 62, True: 45}}
			b.check(b.d.Compare(b.pot(), b.place().Site, f))
		case "policy":
			b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 45, Source: "x"}))
		}
		before := b.plan().Frozen
		if how == "removed-honest" { // the laptop was lost; the office removes it with what it had last seen of it
			b.put(b.authorOf(b.siteKey()), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: at.Stream[:], Seq: int64(at.Seq), Reason: "lost"}})
		} else {
			b.forkAt(at, at.Seq+1)
		}
		after := b.plan().Frozen
		if after.RestartMilli < before.RestartMilli || after.Minutes < before.Minutes {
			t.Errorf("%s: restart %d min %d (first %d); after a copy of the device was heard of: restart %d min %d; heights on Today %v", how, before.RestartMilli, before.Minutes, old.RestartMilli, after.RestartMilli, after.Minutes, b.line("heights"))
		}
	}
}

func TestTwoDescriptionsDropNoComparison(t *testing.T) {
	b := desk(t)
	first := b.plan().Frozen
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 145, True: 127}, {Shown: 62, True: 45}}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	before := b.plan().Frozen
	m := b.manager(106)
	l := b.pot().Gauge
	l.Serial = "2208"
	b.put(m, entry.Draft{Kind: model.KindGauge, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}}, Payload: l})
	after := b.plan().Frozen
	if after.RestartMilli < before.RestartMilli {
		t.Errorf("two descriptions at once (two %v): never compared %d, compared %d, now %d", b.pot().Two, first.RestartMilli, before.RestartMilli, after.RestartMilli)
	}
}

func TestAFolderFromElsewhereIsAskedAbout(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	b.check(b.d.Close())
	dir := t.TempDir()
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	b.open()
	b.check(b.d.Stop(c, "spores grew"))
	for range 5 {
		b.check(b.d.TellStock(model.StockTape, 3, true))
	}
	b.check(b.d.Close()) // the machine dies
	t.Setenv("MVUKE_STATE", t.TempDir())
	b.dir = dir
	b.open()
	first := b.line("copy-older")
	b.check(b.d.Close())
	b.open()
	if !b.line("copy-older") {
		t.Errorf("copy-older first start %v, then %v; note %v; the stopped pack is %s", first, b.line("copy-older"), b.line("copy"), b.state(packs[0]))
	}
}

func TestALostWaitingRoomIsNotForgotten(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	a := b.other(103, true)
	a.Seq, a.Head = 7, entry.ID{9}
	w, err := a.Sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{cref(c)}, Payload: model.Hold{Code: "stopped", Reason: "wet"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	if b.state(packs[0]) != work.ShelfHeld {
		t.Fatal(b.state(packs[0]))
	}
	b.check(b.d.Close())
	for _, tail := range []string{"", "-wal", "-shm"} {
		os.Remove(filepath.Join(b.dir, "waiting.db"+tail))
	}
	b.open()
	if !b.line("waiting-lost") {
		t.Fatal("not told")
	}
	o := b.other(104, true)
	v, err := o.Sign(stockNote, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{v})
	b.check(err)
	if !b.line("waiting-lost") {
		t.Errorf("any stick takes the line away; the hold is lost, the pack is %s", b.state(packs[0]))
	}
}

func TestTwinsThatWaitSilenceNoStream(t *testing.T) {
	p := twoDevices(t)
	packs, c := p.sterile(1)
	p.carry(p.d, p.tablet, true)
	a := p.other(105, true)
	hold := p.put(a, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{cref(c)}, Payload: model.Hold{Code: "stopped", Reason: "wet"}})
	for _, x := range []byte{1, 2} { // two clones' sticks, each with a gap
		tw := *a
		tw.Seq, tw.Head = 40, entry.ID{x}
		w, err := tw.Sign(stockNote, p.clk.Now(), model.ClockGood)
		p.check(err)
		_, err = p.d.Store.Receive([]entry.Verified{w})
		p.check(err)
	}
	p.carry(p.d, p.tablet, true)
	ok, err := p.tablet.Store.Has(hold.ID())
	p.check(err)
	if !ok {
		u, _ := p.tablet.Usable(packs[0])
		t.Errorf("taken out with everything: the hold of the stream is not in it; forked at %d; the pack at the tablet is %s", p.d.Store.Forked(a.Stream), u.Word)
	}
}

func TestAPotThatBoiledDryIsNotForgotten(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	a := b.other(108, true)
	var vs []entry.Verified
	for range 601 { // a stick of the office: endings at other sites
		v, err := a.Sign(entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(b.d.NewID())}, Payload: model.CycleClosed{Outcome: model.RanThrough}}, b.clk.Now(), model.ClockGood)
		b.check(err)
		a.Advance(v)
		vs = append(vs, v)
	}
	_, err := b.d.Store.Receive(vs)
	b.check(err)
	_, _, err = b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
	if code(err) != "care-first" {
		t.Errorf("a pot that boiled dry and was not looked at is lit: %v; care-now %v", err, b.line("care-now"))
	}
}

func TestAPotThatBoiledDryByAnOldWordIsStopped(t *testing.T) {
	for name, draft := range map[string]entry.Draft{
		"incident": {Kind: model.KindIncident, Payload: model.Incident{Code: model.BoiledDry, Text: "x"}},
		"ending":   {Kind: model.KindCycleClosed, Payload: model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}},
	} {
		t.Run(name, func(t *testing.T) {
			b := desk(t)
			id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
			draft.Targets = []model.Ref{cref(id)} // and not the pot, as it was written once
			b.put(b.other(110, true), draft)
			_, _, err := b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
			if code(err) != "care-first" {
				t.Errorf("boiled dry, told by an entry that names only the cycle: lit, %v", err)
			}
		})
	}
}

func TestAPotThatBoiledDryByAWaitingWordIsStopped(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	a := b.other(109, true)
	a.Seq, a.Head = 7, entry.ID{9}
	w, err := a.Sign(entry.Draft{Kind: model.KindIncident, Targets: []model.Ref{cref(id)}, Payload: model.Incident{Code: model.BoiledDry, Text: "x"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	_, _, err = b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
	if code(err) != "care-first" {
		t.Errorf("boiled dry, told by an entry that waits: lit, %v", err)
	}
}

func TestAReleaseThatFindsACopyCounts(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	a := b.own()
	b.forkAt(a, a.Seq)
	b.check(b.d.Release(id, ""))
	g, err := b.d.Gate(id)
	b.check(err)
	if w := word(b, id); w != register.Usable {
		t.Errorf("released, no refusal, and the pack is %s; the gate now says %v; again: %s; to-release on Today %v", w, stops(g), code(b.d.Release(id, "")), b.line("to-release"))
	}
}

func TestAClearThatFindsACopyCounts(t *testing.T) {
	b := desk(t)
	packs, c := b.sterile(1)
	b.check(b.d.Stop(c, "x"))
	a := b.own()
	b.forkAt(a, a.Seq)
	err := b.d.ClearHold(cref(c), work.HoldStopped, "looked at")
	x, _ := b.d.Cycle(c)
	open := 0
	for _, h := range x.State.Holds {
		if h.Open() {
			open++
		}
	}
	if err == nil && open > 0 {
		t.Errorf("cleared without a refusal, %d still open; pack %s", open, b.state(packs[0]))
	}
}

func TestACopiedDeviceWithoutSiteKeyOpens(t *testing.T) {
	b := desk(t)
	_, id := b.sterile(1)
	b.check(b.d.Stop(id, "x"))
	b.check(b.d.Close())
	b.check(os.Remove(filepath.Join(b.dir, "keys", "site.key")))
	b.open() // it opens without
	at := b.own()
	b.forkAt(at, at.Seq)
	b.check(b.d.TellStock(model.StockTape, 3, true))
	if err := b.d.ClearHold(cref(id), work.HoldStopped, "x"); code(err) != "stream-copied" { // it would say done, and not count
		t.Errorf("cleared under a copied key: %v", err)
	}
	b.check(b.d.Stop(id, "wet"))
	b.check(b.d.Close())
	b.open()
	if w := word(b, id); w != register.Held {
		t.Errorf("stopped under a copied key: %s", w)
	}
}

func TestTwoTabletsOfOneFolderNumberApart(t *testing.T) {
	b := desk(t)
	b.check(b.d.Close())
	var num []string
	var ds []*work.Desk
	for range 2 {
		dir := t.TempDir()
		b.check(os.CopyFS(dir, os.DirFS(b.dir)))
		t.Setenv("MVUKE_STATE", t.TempDir())
		d, err := work.Open(dir, work.Options{Clock: b.clk})
		b.check(err)
		people, _ := d.People()
		d.Act(people[0].ID)
		_, n, err := d.MakePack(packForm("delivery"))
		b.check(err)
		num, ds = append(num, n.Text), append(ds, d)
	}
	defer ds[1].Close()
	b.d = ds[0]
	if num[0] == num[1] {
		t.Errorf("both number %s", num[0])
	}
}

func TestAWakeElsewhereTakesNoReleaseAway(t *testing.T) {
	p := twoDevices(t)
	id, _ := p.cycle(demo.Burn{Packs: 2, First: 1, StopAfter: 8})
	p.carry(p.d, p.tablet, true)
	p.clk.Pass(4 * time.Minute)
	_, err := p.tablet.Wake()
	p.check(err)
	g := p.goOn(id, 10, model.Stayed)
	if !g.Open() {
		t.Skip(stops(g), g.Result.Reasons)
	}
	p.check(p.d.Release(id, ""))
	if word(p.bench, id) != register.Usable {
		t.Fatal(word(p.bench, id))
	}
	p.carry(p.tablet, p.d, true)
	if w := word(p.bench, id); w != register.Usable {
		g, err := p.d.Gate(id)
		p.check(err)
		ls, _ := p.d.Today()
		t.Errorf("the pack is %s; gate %v, verdict %s; release again: %s; reject: %s; Today %+v", w, stops(g), g.Result.Verdict, code(p.d.Release(id, "")), "not tried", ls)
	}
}

func TestADoubtedPackIsClearedByName(t *testing.T) {
	p := twoDevices(t)
	p.carry(p.d, p.tablet, true)
	p.carry(p.tablet, p.d, true)
	var stream entry.Stream
	key, err := home.LoadKey(home.Disk{}, p.tablet.Dir, home.DeviceKey)
	p.check(err)
	stream = entry.NewAuthor(key, p.d.Store.District()).Stream
	seq, _, _, err := p.d.Store.Resume(stream)
	p.check(err)
	var pack model.ID
	var label string
	p.onTablet(func() {
		id, n, err := p.d.MakePack(packForm("delivery"))
		p.check(err)
		pack, label = id, n.Text
	})
	p.carry(p.tablet, p.d, true) // the laptop knows it, and sterilizes it
	load, err := p.d.LoadOf([]string{label})
	p.check(err)
	cycle, err := demo.CycleWith(p.d, p.clk, demo.Burn{Strip: true}, load)
	p.check(err)
	checks, err := demo.GoodChecks(p.d, cycle)
	p.check(err)
	p.check(p.d.Unload(cycle, checks, true))
	p.check(p.d.Release(cycle, ""))
	p.put(p.authorOf(p.siteKey()), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: stream[:], Seq: int64(seq), Reason: "lost on the way"}})
	if s := p.state(pack); s.Good() {
		t.Fatalf("packed by a device after it was removed: %s", s)
	}
	p.check(p.d.ClearHold(pref(pack), register.HoldDoubted, "counted again beside the list"))
	if s := p.state(pack); !s.Good() {
		t.Errorf("looked at, and still %s", s)
	}
}
