package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// grows reads growth of a test laid into a load.
func (b *bench) grows(cycle model.ID) {
	b.t.Helper()
	_, err := b.d.ReadSpore(b.spore(cycle, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
}

func TestAttackGrowthInASlip(t *testing.T) {
	b := desk(t)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	lit := b.clk.Wall.Add(2 * time.Hour) // a load by night, on paper
	b.clk.Pass(24 * time.Hour)
	packs, _ := b.sterile(1)
	b.clk.Pass(24 * time.Hour)
	_, last := b.sterile(1)
	b.zneg(b.spore(last, zyear, true))
	_, slip := b.slip(lit, 1)
	b.grows(slip)
	r := b.recallOf()
	t.Run("loads lit after the load that grew are called back", func(t *testing.T) {
		if r.Square(packs[0]) == nil {
			t.Errorf("the load of the day after is not in the recall: it leans on cycle %d of three days later", r.After)
		}
	})
	t.Run("and are not freed as those of before", func(t *testing.T) {
		if n, err := b.d.FreeBefore(r.ID, "no others tonight"); b.state(packs[0]) == work.ShelfReady {
			t.Errorf("%d freed %v, and it is %s", n, err, b.state(packs[0]))
		}
	})
}

func TestAttackTheGoodTestIsVoidedLater(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(1)
	_, good := b.sterile(1)
	test := b.spore(good, zyear, true)
	b.zneg(test)
	_, bad := b.sterile(1)
	b.grows(bad)
	r := b.recallOf()
	_, err := b.d.FreeBefore(r.ID, "no others tonight")
	b.check(err)
	read, err := b.d.SporeTest(test) // the tablet was told of the same test: its control did not grow
	b.check(err)
	b.put(b.manager(91), entry.Draft{Kind: model.KindSporeRead, Targets: read.ReadBy.Body().Refs(), Relies: []entry.ID{read.PlacedBy.ID()},
		Payload: model.SporeRead{Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
	if read, err = b.d.SporeTest(test); err != nil || read.Said != model.SporeVoid {
		t.Fatal(read.Said, err)
	}
	t.Run("the recall reaches back over a test that is no result", func(t *testing.T) {
		if b.recallOf().Square(early[0]) == nil {
			t.Error("it leans on a void test, and loads before it are not called back")
		}
	})
	t.Run("a load freed on it is held again", func(t *testing.T) {
		if s := b.state(early[0]); s == work.ShelfReady {
			t.Errorf("its pot grew spores, no good test lies between, and its pack is %s", s)
		}
	})
}

func TestAttackAClosedRecallOpensAgain(t *testing.T) {
	t.Run("for a late load, where it was closed with no pack in it", func(t *testing.T) {
		b := desk(t)
		_, first := b.sterile(1)
		b.zneg(b.spore(first, zyear, true))
		b.grows(b.ztrial()) // growth in an empty cycle
		b.check(b.d.CloseRecall(b.recallOf().ID, ""))
		late, _ := b.slip(b.clk.Wall.Add(-20*time.Hour), 1)
		if r := b.recallOf(); r.Closed || r.Square(late) == nil {
			t.Errorf("a load of the window was typed in: %d packs, closed %v", r.Total, r.Closed)
		}
	})
	t.Run("for a pack that was seen and was used on somebody all the same", func(t *testing.T) {
		b := desk(t)
		packs, cycle := b.sterile(2)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
		b.grows(cycle)
		r := b.recallOf()
		b.check(b.d.TellRecall(r.ID, model.SoughtSeen, packs[:1], "maternity"))
		b.check(b.d.SetAside(packs[1]))
		b.check(b.d.CloseRecall(r.ID, ""))
		b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187", Anyway: true}))
		if r = b.recallOf(); r.Untold != 1 || r.Closed {
			t.Errorf("nobody was told of %d, closed %v", r.Untold, r.Closed)
		}
	})
	t.Run("and not for loads lit after the pot came back", func(t *testing.T) {
		b := desk(t)
		_, cycle := b.sterile(1)
		b.grows(cycle)
		r := b.recallOf()
		b.check(b.d.SetAside(r.Loads[0].Squares[0].Pack))
		b.check(b.d.CloseRecall(r.ID, ""))
		b.zback()
		after, _ := b.sterile(2)
		if s := b.state(after[0]); s != work.ShelfReady {
			t.Fatal(s)
		}
		if r = b.recallOf(); !r.Closed || r.Square(after[0]) != nil {
			t.Errorf("%d packs, closed %v: sterile packs of the mended pot are to be looked for", r.Total, r.Closed)
		}
	})
}

func TestAttackAWideRecallHoldsWhatItLists(t *testing.T) {
	for name, load := range map[string]func(*bench) model.ID{
		"a load typed in after it": func(b *bench) model.ID { p, _ := b.slip(b.clk.Wall.Add(-20*time.Hour), 1); return p },
		"a load lit after it": func(b *bench) model.ID {
			p, _ := b.sterile(1)
			return p[0]
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := desk(t)
			b.clk.Pass(48 * time.Hour)
			packs, cycle := b.sterile(2)
			b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot}))
			id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallStrip, Cause: cycle, Loads: []model.ID{cycle}})
			b.check(err)
			b.check(b.d.WidenRecall(id, "two more strips failed"))
			late := load(b)
			c, err := b.d.Pack(late)
			b.check(err)
			if g, err := b.d.Gate(c.Load); err == nil && !slices.Contains(stops(g), "settled") {
				checks := []model.PackCheck{{Pack: late, TapeOK: true, Dry: true, WrapOK: true}}
				b.check(b.d.Unload(c.Load, checks, true))
				b.check(b.d.Witnessed(c.Load, model.Witness{Kind: model.WitnessStrip, Reached: true}))
				if err := b.d.Release(c.Load, ""); err != nil && code(err) != "gate.hold" {
					t.Fatal(err)
				}
			}
			if r := b.recallOf(); r.Square(late) != nil && b.state(late) == work.ShelfReady {
				t.Errorf("it is called back, and on the shelf it is %s", b.state(late))
			}
		})
	}
}

func TestAttackAClosedRecallHidesADoubt(t *testing.T) {
	t.Run("a load of a closed recall that falls is called back again", func(t *testing.T) {
		b := atD(t)
		b.compare(right...)
		packs, cycle := b.heldAt(131_000)
		b.check(b.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load", Loads: []model.ID{cycle}})
		b.check(err)
		b.check(b.d.SetAside(packs[0]))
		b.check(b.d.CloseRecall(id, "the label was right, nobody is told"))
		b.clk.Pass(24 * time.Hour)
		b.compare(high...)
		came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
		if err != nil || came.Called != 1 {
			t.Errorf("%+v, %v: the patient of 1187 is on no list", came, err)
		}
	})
}

func TestAttackTheOfficesRecallIsOnToday(t *testing.T) {
	t.Run("the clinic whose load the office calls back reads so", func(t *testing.T) {
		x := newDistrictOf(t, "Clinic B")
		b := x.clinics[0]
		x.join(b)
		packs, cycle := b.sterile(3)
		b.check(b.d.OpenPack(packs[0], packUse()))
		x.carry(b, x.office)
		_, err := x.office.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "the wrap was recalled by its maker", Loads: []model.ID{cycle}})
		x.office.check(err)
		x.carry(x.office, b)
		if s := b.state(packs[1]); s != work.ShelfHeld {
			t.Fatal(s)
		}
		if all, err := b.d.Recalls(); err != nil || len(all) != 1 || !b.line("recall") {
			t.Errorf("%d recalls, on Today %v %v", len(all), b.line("recall"), err)
		}
	})
}

func TestAttackASecondUseIsNotTold(t *testing.T) {
	t.Run("a use that is told of after the clinician was told of another is untold", func(t *testing.T) {
		b := desk(t)
		packs, cycle := b.sterile(1)
		b.check(b.d.OpenPack(packs[0], packUse()))
		b.grows(cycle)
		r := b.recallOf()
		b.check(b.d.TellRecall(r.ID, model.SoughtClinician, packs, "clinical officer: 1187"))
		b.put(b.manager(92), entry.Draft{Kind: model.KindPackOpened, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackOpened{Outside: true, Strip: model.StripReached, Use: make([]byte, 32), At: 1}})
		if r = b.recallOf(); r.Untold == 0 {
			t.Error("two people, one was told of, and nobody is left to tell")
		}
	})
	t.Run("a use without a number is not taken away by a strip that failed in somebody else's hands", func(t *testing.T) {
		b := desk(t)
		packs, cycle := b.sterile(1)
		b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached}))
		b.put(b.manager(93), entry.Draft{Kind: model.KindPackOpened, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackOpened{Strip: model.StripNot, At: 1}})
		b.grows(cycle)
		if r := b.recallOf(); r.Sum[work.AtUsed] != 1 || r.Untold != 1 {
			t.Errorf("%v, nobody was told of %d: it was opened on somebody", r.Sum, r.Untold)
		}
	})
}

func TestAttackAMonthForgetsWhatCameBeforeABacklog(t *testing.T) {
	t.Run("March's failure is in March's figures after February's slips are typed in", func(t *testing.T) {
		b := desk(t)
		b.clk.Wall = time.Date(2027, 3, 10, 7, 0, 0, 0, time.UTC)
		_, cycle := b.sterile(1)
		b.check(b.d.Reject(cycle, "wet"))
		b.clk.Wall = time.Date(2027, 4, 2, 7, 0, 0, 0, time.UTC)
		for day := range 21 {
			b.slip(time.Date(2027, 2, 1+day, 7, 0, 0, 0, time.UTC), 1)
		}
		months, err := b.d.MonthsAt(b.place().ID, 2)
		b.check(err)
		f := months[0]
		if f.Month != time.March || !f.Reported || f.Lit != 1 || f.Rejected != 1 {
			t.Errorf("reported %v: %d lit, %d rejected", f.Reported, f.Lit, f.Rejected)
		}
	})
}

func TestAttackFoundOutByAClockThatStoodBack(t *testing.T) {
	t.Run("a slip of a day before the comparison is in doubt", func(t *testing.T) {
		b := desk(t)
		b.compare(work.ComparePoint{Shown: 50, True: 50}, work.ComparePoint{Shown: 127, True: 127})
		lit := b.clk.Wall.Add(20 * time.Hour)
		b.clk.Pass(10 * 24 * time.Hour)
		day := b.clk.Wall
		b.reboot(time.Hour, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC))
		b.check(b.d.AnswerDate(day))
		b.compare(work.ComparePoint{Shown: 62, True: 50}, work.ComparePoint{Shown: 139, True: 127})
		b.reboot(time.Hour, day.Add(48*time.Hour))
		b.compare(work.ComparePoint{Shown: 50, True: 50}, work.ComparePoint{Shown: 127, True: 127}) // it was set right
		_, cycle := b.slip(lit, 1)
		l, err := b.d.LookBack(cycle)
		b.check(err)
		if len(l.Codes) == 0 {
			t.Error("lit by a gauge that showed 12 too much, and nothing holds it")
		}
	})
}

func TestAttackFoundOutThatWaits(t *testing.T) {
	for name, x := range map[string]func(*bench) entry.Draft{
		"a comparison": func(b *bench) entry.Draft {
			return entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}},
				Payload: model.Compared{Points: []model.FrozenCorrection{{AtMilli: 130_000, ErrorMilli: 20_000}}, WorstPa: 20_600}}
		},
		"an altitude": func(b *bench) entry.Draft {
			s := b.place().Site
			s.HeightM, s.RaisedPa = 2400, 129_000
			return entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounSite, ID: b.place().ID}, {Noun: model.NounHeight, ID: b.place().ID}}, Payload: s}
		},
	} {
		t.Run(name+" after a gap stops at once", func(t *testing.T) {
			b := desk(t)
			packs, _ := b.sterile(1)
			m := b.manager(94)
			m.Seq, m.Head = 6, entry.ID{1}
			v, err := m.Sign(x(b), b.clk.Now(), model.ClockGood)
			b.check(err)
			if r, err := b.d.Store.Receive([]entry.Verified{v}); err != nil || r.Waiting != 1 {
				t.Fatal(r, err)
			}
			if s := b.state(packs[0]); s == work.ShelfReady {
				t.Errorf("what came before it was on a stick that is lost, and the pack is %s", s)
			}
		})
	}
}

func TestAttackAGoodTestBetweenTwoGrowths(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	before, _ := b.sterile(1)
	b.check(b.d.OpenPack(before[0], packUse()))
	_, grew := b.sterile(1)
	b.grows(grew)
	b.zneg(b.spore(b.ztrial(), zyear, true)) // the test repeated, and nothing grew
	b.grows(b.ztrial())                      // and again
	r := b.recallOf()
	t.Run("the widened recall reaches back before the first growth", func(t *testing.T) {
		if !r.Wide || r.Square(before[0]) == nil {
			t.Errorf("wide %v, it leans on cycle %d; the load before the first growth is not in it", r.Wide, r.After)
		}
	})
	t.Run("and a patient of that window stands somewhere on Today", func(t *testing.T) {
		if r.Square(before[0]) == nil && !b.line("stopped-out") {
			t.Error("the use of a pack between the last good test and the first growth is on no list")
		}
	})
}

func TestAttackFreedByTheLaterOfTwoLoads(t *testing.T) {
	for name, tell := range map[string]func(b *bench, test model.ID, earlier, last model.ID){
		"the test was told of an earlier load too": func(b *bench, test, earlier, last model.ID) {
			x := entryDraft(test, earlier)
			x.Payload = model.SporePlaced{Cycle: earlier, Pot: b.pot().ID, Lot: "L7", Expires: 1 << 50, Control: true, At: b.clk.Wall.UnixMilli()}
			b.put(b.manager(95), x)
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := desk(t)
			_, first := b.sterile(1)
			b.zneg(b.spore(first, zyear, true))
			_, earlier := b.sterile(1)
			between, _ := b.sterile(1)
			_, good := b.sterile(1)
			b.zneg(b.spore(good, zyear, true))
			_, last := b.sterile(1)
			test := b.spore(last, zyear, true)
			tell(b, test, earlier, last)
			_, err := b.d.ReadSpore(test, model.SporeRead{Grew: true})
			b.check(err)
			r := b.recallOf()
			if r.Square(between[0]) == nil {
				t.Error("spores may have grown in an earlier load, and the one after it is not called back")
			}
			if n, _ := b.d.FreeBefore(r.ID, "no others tonight"); b.state(between[0]) == work.ShelfReady {
				t.Errorf("%d freed, the load right after it is %s", n, b.state(between[0]))
			}
		})
	}
	t.Run("a recorder told of the load that grew before, and that it came after a later one", func(t *testing.T) {
		b := desk(t)
		_, first := b.sterile(1)
		b.zneg(b.spore(first, zyear, true))
		_, grew := b.sterile(1)
		test := b.spore(grew, zyear, true)
		between, _ := b.sterile(1)
		_, good := b.sterile(1)
		b.zneg(b.spore(good, zyear, true))
		c, err := b.d.Cycle(grew)
		b.check(err)
		x := c.Begun
		x.After = [][]byte{good[:]}
		a := b.other(96, true)
		a.Lamport = 1
		b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: c.Entry.Body().Refs(), Payload: x})
		_, err = b.d.ReadSpore(test, model.SporeRead{Grew: true})
		b.check(err)
		n, _ := b.d.FreeBefore(b.recallOf().ID, "no others tonight")
		if b.state(between[0]) == work.ShelfReady {
			t.Errorf("%d freed, the load right after the one that grew is %s", n, b.state(between[0]))
		}
	})
}
