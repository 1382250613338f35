package work_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// codes are the lines of Today as they stand.
func (b *bench) todayOf() (out []work.Line) {
	b.t.Helper()
	out, err := b.d.Today()
	b.check(err)
	return out
}

// A load was called back for its label, all packs were accounted for, the recall was ended and the load freed by name. Later its gauge is found to show too much: it is held in doubt, its
// packs are on the ward, and some line of Today must say so.
func TestAttackALoadInDoubtAfterARecallThatIsOver(t *testing.T) {
	for _, how := range []string{"in doubt after the recall was over", "in doubt before the recall"} {
		t.Run(how, func(t *testing.T) {
			b := atD(t)
			b.compare(right...)
			packs, load := b.heldAt(140_000)
			b.clk.Pass(time.Hour)
			if how == "in doubt before the recall" {
				b.compare(high...)
			}
			id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
			b.check(err)
			b.check(b.d.TellRecall(id, model.SoughtSeen, packs, ""))
			b.check(b.d.CloseRecall(id, ""))
			b.check(b.d.ClearHold(cref(load), "recalled", "the label was right"))
			b.clk.Pass(time.Hour)
			if how != "in doubt before the recall" {
				if s := b.state(packs[0]); s != work.ShelfReady {
					t.Fatalf("freed, and %s", s)
				}
				b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
				b.compare(high...)
			}
			if s := b.state(packs[1]); s != work.ShelfHeld {
				t.Fatalf("in doubt, and %s", s)
			}
			in, err := b.d.InDoubt(b.pot().ID)
			b.check(err)
			if len(in) != 1 {
				t.Fatalf("%d loads to be looked back on", len(in))
			}
			var all []string
			for _, l := range b.todayOf() {
				if l.Code == "in-doubt" || (l.Code == "held" && l.Cycle == load) || l.Code == "recall" {
					return
				}
				all = append(all, l.Code)
			}
			t.Errorf("the load is held in doubt, and no line of Today says so: %v", all)
		})
	}
}

// The laptop ends a recall knowing of one use of a pack, whose clinician nobody could tell. The tablet had opened the same pack on somebody else: of that patient nobody knew when the recall
// was ended.
func TestAttackASecondUseIsNotAnsweredByTheEnd(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	tablet := x.twin(b)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/77"}))
	b.check(b.d.SetAside(packs[1]))
	tablet.check(tablet.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/78"}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.CloseRecall(id, "the patient of 2026/77 died at home"))
	r, err := b.d.Recall(id)
	b.check(err)
	if !r.Closed {
		t.Fatal("not closed")
	}
	x.carry(tablet, b)
	p, err := b.d.Pack(packs[0])
	b.check(err)
	r, err = b.d.Recall(id)
	b.check(err)
	if len(p.Uses) == 2 && r.Closed {
		t.Errorf("a second patient is told of after the end, and the recall is closed: %d untold, short %d", r.Untold, r.Short)
	}
	if len(p.Uses) != 2 {
		t.Logf("%d uses", len(p.Uses))
	}
}

// A recall that was ended is widened to a load that the office has not got: a part of the stick was lost. The office knows that it is called back, and that nobody answered for it.
func TestAttackAnEndedRecallIsWidenedToALoadThatIsNotHere(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	tablet := x.twin(b)
	_, late := tablet.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	x.carry(b, x.office)
	x.carry(tablet, b)
	b.check(b.d.WidenRecall(id, "the card hung there longer"))
	r, err := b.d.Recall(id)
	b.check(err)
	if r.Closed || len(r.Loads) != 2 {
		t.Fatalf("at B: closed %v, %d loads", r.Closed, len(r.Loads))
	}
	_ = late
	// of the laptop's stream all comes, of the tablet's nothing
	vs, err := b.d.Store.ByKind(model.KindRecall)
	b.check(err)
	_, err = x.office.d.Store.Receive(vs) // the widened one waits where something before it is missing
	b.check(err)
	r, err = x.office.d.Recall(id)
	b.check(err)
	t.Logf("at the office: closed %v, absent %d, total %d, wide %v", r.Closed, r.Absent, r.Total, r.Wide)
	if r.Absent > 0 && r.Closed {
		t.Error("the office reads that a load is called back of which nobody answered for anything, and the recall counts as over")
	}
	all, err := x.office.d.Standings()
	b.check(err)
	if all[0].Recalls != 1 {
		t.Errorf("%d recalls at B", all[0].Recalls)
	}
	if !x.office.line("recall") {
		t.Error("no line on Today of the office")
	}
}

// The tablet of B ended the recall. A copy of that tablet appears: its stream is forked, what it did for the good from there on does not count, and the recall is open again. The entry that
// shows it waits for one before it, so nothing is written into the register.
func TestAttackAForkThatWaitsOpensARecallAndTheOfficeDoesNotSee(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	tablet := x.twin(b)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	x.carry(tablet, b)
	x.carry(b, tablet)
	tablet.check(tablet.d.CloseRecall(id, ""))
	a := tablet.own()
	var end uint64
	if vs, err := tablet.d.Store.ByKind(model.KindRecallEnd); err != nil || len(vs) != 1 {
		t.Fatal(len(vs), err)
	} else {
		end = vs[0].Body().Seq
	}
	x.carry(tablet, x.office)
	x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	if all[0].Recalls != 0 {
		t.Fatal("it is ended, and stands with B")
	}
	if x.office.line("recall") {
		t.Fatal("it is ended, and stands on Today")
	}
	r, err := x.office.d.Recall(id)
	b.check(err)
	if !r.Closed {
		t.Fatal("not closed at the office")
	}
	before, _ := x.office.d.Store.Digest()
	n, _ := x.office.d.Store.Count()
	a.Seq, a.Head = end-1, entry.ID{9}
	w, err := a.Sign(stockNote, x.office.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = x.office.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	after, _ := x.office.d.Store.Digest()
	m, _ := x.office.d.Store.Count()
	r, err = x.office.d.Recall(id)
	b.check(err)
	t.Logf("closed %v; digest the same %v, entries the same %v", r.Closed, before == after, n == m)
	if r.Closed {
		t.Skip("the end still counts")
	}
	all, err = x.office.d.Standings()
	b.check(err)
	if all[0].Recalls != 1 {
		t.Errorf("read whole the recall is open, and %d recalls stand with B", all[0].Recalls)
	}
	if !x.office.line("recall") {
		t.Error("read whole the recall is open, and Today of the office does not say so")
	}
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "x"})) // any act lets go of what was kept
	if !x.office.line("recall") {
		t.Error("not even after the next act")
	}
}

// A clinic's clock is two months ahead. Its last stick was 45 days ago.
func TestAttackDaysSinceTheStickOfAClinicWhoseClockIsAhead(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.clk.Wall = b.clk.Wall.AddDate(0, 2, 0)
	b.sterile(1)
	x.carry(b, x.office)
	x.office.clk.Pass(45 * 24 * time.Hour)
	all, err := x.office.d.Standings()
	b.check(err)
	now, err := x.office.d.Date()
	b.check(err)
	site, _ := b.d.SiteID()
	came, err := x.office.d.Store.LastArrival(site, now)
	b.check(err)
	if s := all[0]; s.StickDays < 45 || !s.Silent() {
		t.Errorf("its last stick came 45 days ago (%v), its row says %d days, silent %v", came, s.StickDays, s.Silent())
	}
}

// The row is worked out once a day; days are counted by hours.
func TestAttackARowKeptInMemoryDoesNotSilenceAClinic(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	all, err := x.office.d.Standings()
	b.check(err)
	last := all[0].LastAt
	x.office.clk.Wall = last.Add(31*24*time.Hour - 2*time.Hour) // still 30 days
	if x.office.clk.Wall.Day() != x.office.clk.Wall.Add(3*time.Hour).Day() {
		t.Skip("over midnight")
	}
	all, err = x.office.d.Standings()
	b.check(err)
	first := all[0].StickDays
	x.office.clk.Pass(3 * time.Hour)
	kept, err := x.office.d.Standings()
	b.check(err)
	b.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "x"}))
	fresh, err := x.office.d.Standings()
	b.check(err)
	t.Logf("%d, kept %d, worked out anew %d", first, kept[0].StickDays, fresh[0].StickDays)
	if kept[0].StickDays != fresh[0].StickDays {
		t.Errorf("kept in memory: %d days, silent %v; worked out anew: %d days, silent %v", kept[0].StickDays, kept[0].Silent(), fresh[0].StickDays, fresh[0].Silent())
	}
}

// A recall that is open again, of many that were ended: the recalls screen shows the open ones first.
func TestAttackTheRecallsScreenShowsOpenOnesFirst(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	others, other := b.sterile(1)
	b.check(b.d.SetAside(others[0]))
	reopened, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(reopened, ""))
	for i := range 17 {
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: fmt.Sprint("again ", i), Loads: []model.ID{other}})
		b.check(err)
		b.check(b.d.CloseRecall(id, ""))
	}
	x.carry(b, x.office)
	// somebody opens one of its packs after all
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/78", Anyway: true}))
	x.carry(b, x.office)
	r, err := x.office.d.Recall(reopened)
	b.check(err)
	if r.Closed {
		t.Fatal("not open again")
	}
	_, err = x.office.d.Standings() // as the screen does, one recall after the other
	b.check(err)
	ids, err := x.office.d.RecallIDs()
	b.check(err)
	if i := slices.Index(ids, reopened); i != 0 || len(ids) != 18 {
		t.Errorf("an open recall stands at %d of %d, behind what is over", i+1, len(ids))
	}
}

// Clinic C, which borrowed a pack of B, calls the load of B back: it stands with both at the office, and on Today of both.
func TestAttackARecallOpenedByAnotherClinic(t *testing.T) {
	x, b, c := twoClinics(t)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: c.name}))
	x.round(b, c)
	id, err := c.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "the tape was unchanged", Loads: []model.ID{load}})
	c.check(err)
	for range 2 {
		x.round(c, b)
		x.round(b, c)
	}
	all, err := x.office.d.Standings()
	b.check(err)
	for _, s := range all {
		if s.Recalls != 1 {
			t.Errorf("%s: %d recalls", s.Name, s.Recalls)
		}
	}
	if s := b.state(packs[1]); s != work.ShelfHeld {
		t.Errorf("at B %s", s)
	}
	if !b.line("recall") {
		t.Errorf("Today of B has no line of it; held: %v", b.line("held"))
	}
	_ = id
}

// A clinic was taken in, and its words were not compared at the office yet; a stick of it came all the same. What it called back must be said somewhere.
func TestAttackARecallOfAClinicThatIsNotProven(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	inv, _ := x.answer(b)
	b.check(b.d.Accept(inv, true))
	_, err := b.d.BringIn(x.stick)
	b.check(err)
	_, load := b.sterile(1)
	_, err = b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	i := slices.IndexFunc(x.office.todayOf(), func(l work.Line) bool { return l.Code == "recall" })
	if i < 0 || !all[0].Unproven || all[0].Recalls != 1 {
		t.Errorf("line %d; row: unproven %v, %d recalls", i, all[0].Unproven, all[0].Recalls)
	}
}

// All devices of a clinic are removed: its recalls stand with it still, or on Today.
func TestAttackARecallOfAClinicWhoseDevicesAreRemoved(t *testing.T) {
	for _, since := range []bool{false, true} {
		x := newDistrictOf(t, "Clinic B")
		b := x.clinics[0]
		x.join(b)
		start := b.clk.Wall
		b.clk.Pass(48 * time.Hour)
		_, load := b.sterile(1)
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
		b.check(err)
		x.carry(b, x.office)
		devices, err := x.office.d.Devices()
		b.check(err)
		site, _ := b.d.SiteID()
		for _, dev := range devices {
			if dev.Site == site {
				at := time.Time{}
				if since {
					at = start.Add(24 * time.Hour)
				}
				x.office.check(x.office.d.RemoveDevice(dev.Stream, at, "stolen"))
			}
		}
		all, err := x.office.d.Standings()
		b.check(err)
		rows := 0
		for _, s := range all {
			rows += s.Recalls
		}
		shown := false
		for _, l := range x.office.todayOf() {
			if l.Code == "recall" && l.Cycle == id {
				shown = !l.Elsewhere
			}
		}
		t.Logf("since %v: %d rows, %d recalls in rows, own line %v", since, len(all), rows, shown)
		if rows == 0 && !shown {
			t.Errorf("since %v: the recall stands nowhere", since)
		}
	}
}

// The laptop set all packs aside and ended the recall, without a reason. The tablet, which knew of nothing, took one of them off that shelf afterwards and issued it. Once both are known, a
// pack of the recall is on the ward: the recall is not over, and something on Today says where the pack is.
func TestAttackAPackThatWentOutWhileItsRecallWasEnded(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	tablet := x.twin(b)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	for range 20 { // it is later, also by what the tablet has seen
		tablet.put(tablet.own(), stockNote)
	}
	tablet.check(tablet.d.Close())
	tablet.open()
	tablet.check(tablet.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	x.carry(tablet, b)
	r, err := b.d.Recall(id)
	b.check(err)
	q := r.Square(packs[0])
	t.Logf("closed %v, found %d of %d, short %d, pack %s to %q found %v", r.Closed, r.Found, r.Total, r.Short, q.At, q.To, q.Found)
	if q.Found {
		t.Skip("it still counts as set aside")
	}
	if r.Closed {
		t.Errorf("ended without a reason, and a pack of it is %s, %q", q.At, q.To)
	}
	said := false
	for _, l := range b.todayOf() {
		said = said || l.Code == "recall" || l.Code == "stopped-out"
		t.Log(l.Code, l.Args)
	}
	if !said {
		t.Error("no line of Today says that a called-back pack is out")
	}
}

// The same, by word of mouth: one device ends the recall with every pack seen, the other had looked again and not found one.
func TestAttackAPackThatIsLostWhileItsRecallWasEnded(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.TellRecall(id, model.SoughtSeen, packs, ""))
	tablet := x.twin(b)
	b.check(b.d.CloseRecall(id, ""))
	tablet.clk.Pass(time.Hour)
	tablet.check(tablet.d.TellRecall(id, model.SoughtLost, packs[:1], "the shelf is empty"))
	x.carry(tablet, b)
	r, err := b.d.Recall(id)
	b.check(err)
	t.Logf("closed %v, found %d of %d, short %d", r.Closed, r.Found, r.Total, r.Short)
	if r.Closed && r.Ended == "" && r.Found < r.Total {
		t.Error("ended without a reason, and a pack of it was not found")
	}
}

// A removal of the device that ended a recall waits at the office for one before it.
func TestAttackARemovalThatWaits(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	tablet := x.twin(b)
	start := b.clk.Wall
	b.clk.Pass(48 * time.Hour)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	x.carry(tablet, b)
	x.carry(b, tablet)
	tablet.check(tablet.d.CloseRecall(id, ""))
	x.carry(tablet, b)
	x.carry(tablet, x.office)
	x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	if all[0].Recalls != 0 {
		t.Fatal("open")
	}
	stream := tablet.own().Stream
	b.put(b.own(), stockNote)
	b.check(b.d.Close())
	b.open()
	b.check(b.d.RemoveDevice(stream, start.Add(24*time.Hour), "stolen"))
	vs, err := b.d.Store.ByKind(model.KindDeviceRemoved)
	b.check(err)
	_, err = x.office.d.Store.Receive(vs)
	b.check(err)
	r, err := x.office.d.Recall(id)
	b.check(err)
	all, err = x.office.d.Standings()
	b.check(err)
	t.Logf("closed %v, rows %d", r.Closed, all[0].Recalls)
	if !r.Closed && all[0].Recalls == 0 {
		t.Error("open again, and it stands nowhere")
	}
}

// A load comes later than the recall that names it, in parts and in any order: the row counts it from then on.
func TestAttackALoadThatComesLaterThanItsRecall(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	tablet := x.twin(b)
	_, load := tablet.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	x.carry(b, x.office)
	stands := func(when string) {
		t.Helper()
		all, err := x.office.d.StandingsSoon()
		b.check(err)
		rows := 0
		for _, s := range all {
			rows += s.Recalls
		}
		for _, l := range x.office.todayOf() {
			if l.Code == "recall" && l.Cycle == id {
				t.Logf("%s: elsewhere %v, rows %d", when, l.Elsewhere, rows)
				if l.Elsewhere && rows == 0 {
					t.Errorf("%s: it stands nowhere", when)
				}
				return
			}
		}
		t.Errorf("%s: no line", when)
	}
	stands("before the load")
	vs, err := tablet.d.Store.ByKind(model.KindPackMade)
	b.check(err)
	_, err = x.office.d.Store.Receive(vs)
	b.check(err)
	stands("with its packs waiting")
	x.carry(tablet, x.office)
	stands("with the load")
}

// A recall comes with a gap before it: the stick with what its device wrote before was lost. It counts at once, and stands at the office.
func TestAttackARecallThatWaitsAtTheOffice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	x.carry(b, x.office)
	b.put(b.own(), stockNote) // on the stick that was lost
	b.check(b.d.Close())
	b.open()
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	vs, err := b.d.Store.ByKind(model.KindRecall)
	b.check(err)
	if all, err := x.office.d.Standings(); err != nil || all[0].Recalls != 0 {
		t.Fatal(err)
	}
	_, err = x.office.d.Store.Receive(vs)
	b.check(err)
	if w, err := x.office.d.Store.Waiting(); err != nil || len(w) != 1 {
		t.Fatal(len(w), err)
	}
	if s := x.office.state(packs[0]); s != work.ShelfHeld {
		t.Errorf("at the office a pack is %s", s)
	}
	r, err := x.office.d.Recall(id)
	b.check(err)
	all, err := x.office.d.Standings()
	b.check(err)
	t.Logf("read by its id: closed %v, %d packs; row: %d recalls, %d stopped", r.Closed, r.Total, all[0].Recalls, all[0].Stopped)
	if all[0].Recalls != 1 {
		t.Errorf("%d recalls at B", all[0].Recalls)
	}
	if !x.office.line("recall") {
		t.Error("no line on Today of the office")
	}
	if list, err := x.office.d.Recalls(); err != nil || len(list) != 1 {
		t.Errorf("%d recalls on the recalls screen %v", len(list), err)
	}
}

// The same at another device of the clinic: Today of the tablet.
func TestAttackARecallThatWaitsAtTheOtherDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, load := b.sterile(2)
	tablet := x.twin(b)
	b.put(b.own(), stockNote)
	b.check(b.d.Close())
	b.open()
	_, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	vs, err := b.d.Store.ByKind(model.KindRecall)
	b.check(err)
	_, err = tablet.d.Store.Receive(vs)
	b.check(err)
	if !tablet.line("recall") {
		t.Errorf("no line of the recall; held: %v", tablet.line("held"))
	}
}

// A copy that waits takes releases and clears back too: rows and month figures follow at once.
func TestAttackAForkThatWaitsAndTheRestOfTheRow(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, load := b.sterile(2)
	a := b.own()
	n := a.Seq
	b.check(b.d.Close())
	b.open()
	_, _ = b.sterile(2)
	_ = load
	x.carry(b, x.office)
	x.office.clk.Wall = b.clk.Wall.AddDate(0, 1, 0)
	b.clk.Wall = x.office.clk.Wall
	b.sterile(1)
	x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	m, err := x.office.d.LastMonth(all[0])
	b.check(err)
	a.Seq, a.Head = n, entry.ID{9}
	w, err := a.Sign(stockNote, x.office.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = x.office.d.Store.Receive([]entry.Verified{w})
	b.check(err)
	kept, err := x.office.d.Standings()
	b.check(err)
	k, err := x.office.d.LastMonth(kept[0])
	b.check(err)
	b.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyNotKnown, On: true, Source: "x"}))
	fresh, err := x.office.d.Standings()
	b.check(err)
	f, err := x.office.d.LastMonth(fresh[0])
	b.check(err)
	t.Logf("before %+v %d; kept %+v %d; anew %+v %d", m, all[0].Stopped, k, kept[0].Stopped, f, fresh[0].Stopped)
	if k != f || kept[0].Stopped != fresh[0].Stopped || kept[0].Open != fresh[0].Open {
		t.Errorf("kept %+v, %d stopped, %d open; worked out anew %+v, %d stopped, %d open", k, kept[0].Stopped, kept[0].Open, f, fresh[0].Stopped, fresh[0].Open)
	}
}

// Two devices told of one load, the second with a pack more. The recall is about that pack too.
func TestAttackALoadToldTwiceWithAnotherPack(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	other, _ := b.sterile(1)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	c, err := b.d.Cycle(load)
	b.check(err)
	begun := c.Begun
	o, err := b.d.Cycle(func() model.ID { p, _ := b.d.Pack(other[0]); return p.Load }())
	b.check(err)
	begun.Packs = append(slices.Clone(begun.Packs), o.Begun.Packs...)
	b.put(b.own(), entry.Draft{Kind: model.KindCycleBegun, Targets: append(slices.Clone(c.Entry.Body().Refs()), model.Ref{Noun: model.NounPack, ID: other[0]}), Payload: begun})
	r, err := b.d.Recall(id)
	b.check(err)
	t.Logf("closed %v, %d packs; the other pack is %s", r.Closed, r.Total, b.state(other[0]))
	if r.Square(other[0]) == nil || r.Closed {
		t.Errorf("the pack of which the second telling says that it lay in the load is not in the recall; closed %v", r.Closed)
	}
}
