package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"mvuke/app/demo"
	"mvuke/app/paper"
	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/register"
)

// districtSize is a district that is measured: clinics, loads of each, years.
type districtSize struct{ clinics, loads, years int }

// districtSizes are the districts that are measured, ten times larger each, of 10^4 entries and 10^5: what an office waits for must not grow faster than they do. MVUKE_DISTRICT says which others
// to measure instead: 40x350x3,500x400x5 are those of 10^6 and 10^7.
func districtSizes(b *testing.B) (out []districtSize) {
	v := os.Getenv("MVUKE_DISTRICT")
	if v == "" {
		v = "4x52x1,20x100x2"
	}
	for _, one := range strings.Split(v, ",") {
		var x districtSize
		if _, err := fmt.Sscanf(one, "%dx%dx%d", &x.clinics, &x.loads, &x.years); err != nil {
			b.Fatalf("MVUKE_DISTRICT: %q: %v", one, err)
		}
		out = append(out, x)
	}
	return out
}

// districtDir is where a district of a size lies: under MVUKE_DISTRICT_DIR it is kept, and measured again without being built.
func districtDir(b *testing.B, x districtSize) (dir string, built bool) {
	kept := os.Getenv("MVUKE_DISTRICT_DIR")
	if kept == "" {
		return b.TempDir(), false
	}
	dir = filepath.Join(kept, fmt.Sprintf("%dx%dx%d", x.clinics, x.loads, x.years))
	_, err := os.Stat(filepath.Join(dir, "built"))
	return dir, err == nil
}

// BenchmarkDistrict is what a person at the office waits for, by the number of entries: the screen of clinics until it can be read (Office), as drawn (Drawn) and until its recalls and months are
// counted too (Whole); the month of all clinics, the recall of a growth with its squares, looking back on a year of a pot, the start, and the start with the screen of clinics when the disk has not been read yet (Morning).
func BenchmarkDistrict(b *testing.B) {
	for _, size := range districtSizes(b) {
		b.Setenv("MVUKE_STATE", b.TempDir())
		dir, built := districtDir(b, size)
		now := time.Date(2028, 1, 3, 8, 0, 0, 0, time.UTC)
		check := func(err error) {
			b.Helper()
			if err != nil {
				b.Fatal(err)
			}
		}
		if !built {
			check(os.MkdirAll(dir, 0o700))
			check(demo.LargeDistrict(dir, size.clinics, size.loads, size.years, now))
			check(os.WriteFile(filepath.Join(dir, "built"), nil, 0o600))
		}
		clk := demo.NewClock(now.AddDate(0, 0, -4)) // every clinic has told of the month before
		d, err := work.Open(filepath.Join(dir, "office"), work.Options{Clock: clk})
		check(err)
		n, err := d.Store.Count()
		check(err)
		people, err := d.People()
		check(err)
		d.Act(people[0].ID)
		ended := filepath.Join(dir, "ended")
		if _, err := os.Stat(ended); err != nil {
			check(endedRecalls(d))
			check(os.WriteFile(ended, nil, 0o600))
		}
		check(endDrills(d))
		all, err := d.Standings()
		check(err)
		var site model.ID
		for _, s := range all {
			if s.InDoubt > 0 { // whose gauge was found to show too much
				site = s.ID
			}
		}
		loads, err := d.CyclesAt(site, 12)
		check(err)
		pot := loads[0].Begun.Sterilizer
		grown, spores := testedAmong(loads)
		recall, err := d.OpenRecall(work.RecallForm{Why: model.RecallSpore, Cause: spores, Loads: []model.ID{grown}, Pot: pot, Wide: true, Drill: true})
		check(err)
		at := "/" + strconv.Itoa(size.clinics) + "clinics" + strconv.FormatInt(n, 10) + "entries"
		run := func(name string, do func() error) {
			b.Run(name+at, func(b *testing.B) {
				for b.Loop() {
					check(do())
				}
			})
		}
		lowWater()
		told := func(b *testing.B, do func() error) {
			for b.Loop() {
				b.StopTimer()
				check(d.Boiled("forceps", 20)) // something was told since: nothing of the last time holds
				b.StartTimer()
				check(do())
			}
		}
		soon := func() error {
			_, err := d.Today()
			if err == nil {
				all, err = d.StandingsSoon()
			}
			return err
		}
		b.Run("Office"+at, func(b *testing.B) { told(b, soon) })
		b.Run("Whole"+at, func(b *testing.B) {
			told(b, func() error {
				err := soon()
				if err == nil {
					_, err = d.Standings()
				}
				for _, x := range all[:min(16, len(all))] {
					r, e := d.LastMonth(x)
					if err = errors.Join(err, e); !r.Reported {
						b.Fatalf("%s has not told of the last month: nothing is measured", x.Name)
					}
				}
				return err
			})
		})
		test.NewTempApp(b)
		win := test.NewTempWindow(b, nil)
		win.Resize(fyne.NewSize(1366, 768))
		shell := New(d, win, Options{Language: "en", Quiet: true})
		run("Drawn", func() error { // all is counted, but for what Today asks
			shell.Go(screens.ToToday, model.ID{})
			win.Canvas().Capture()
			return nil
		})
		b.Run("Month"+at, func(b *testing.B) {
			told(b, func() error {
				m, err := d.MonthOf(2027, time.November)
				if err != nil {
					return err
				}
				stock, err := d.Orders(m)
				if err != nil {
					return err
				}
				return paper.MonthReport(discard{}, assets.For("en"), paper.A4, "x", m, stock, now)
			})
		})
		var traced, squares, doubted int
		run("Trace", func() error {
			r, err := d.Recall(recall)
			traced, squares = len(r.Loads), 0
			for _, l := range r.Loads {
				squares += len(l.Squares)
			}
			return err
		})
		run("LookBack", func() error {
			all, err := d.InDoubt(pot)
			doubted = len(all)
			return err
		})
		run("Start", func() error {
			check(d.Close())
			d, err = work.Open(filepath.Join(dir, "office"), work.Options{Clock: clk})
			return err
		})
		b.Run("Morning"+at, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				check(d.Close())
				if err := forgetFiles(filepath.Join(dir, "office")); err != nil {
					b.Skip(err)
				}
				b.StartTimer()
				d, err = work.Open(filepath.Join(dir, "office"), work.Options{Clock: clk})
				check(err)
				check(soon())
			}
		})
		if traced < 4 || squares < 5*traced || doubted == 0 {
			b.Fatalf("the failed test touches %d loads and %d packs, the gauge %d loads: nothing is measured", traced, squares, doubted)
		}
		b.Logf("%s: at most %s of memory; the failed test touches %d loads and %d packs, the gauge %d loads", at, highWater(), traced, squares, doubted)
		d.Act(people[0].ID)
		check(d.CloseRecall(recall, "only measured")) // else the next measuring finds it open
		check(d.Close())
	}
}

// endDrills ends what a measuring that was broken off left open: else each makes the next slower.
func endDrills(d *work.Desk) error {
	ids, err := d.RecallIDs()
	for _, id := range ids[:min(20, len(ids))] { // what is open stands first
		r, e := d.Recall(id)
		if err = errors.Join(err, e); e == nil && r.Drill && !r.Closed {
			err = errors.Join(err, d.CloseRecall(id, "only measured"))
		}
	}
	return err
}

// endedRecalls has the office call a load of each clinic back, and of every fifth all since the last good test before it, and end it: five years of a district leave hundreds.
func endedRecalls(d *work.Desk) error {
	sites, err := d.Sites()
	if err != nil {
		return err
	}
	for i, x := range sites {
		loads, err := d.CyclesAt(x.ID, 9)
		if err != nil {
			return err
		}
		if len(loads) < 9 {
			continue
		}
		f := work.RecallForm{Why: model.RecallHand, Loads: []model.ID{loads[8].State.Ref.ID}, Pot: loads[8].Begun.Sterilizer, Reason: "the strip was of an old lot", Wide: i%5 == 0}
		id, err := d.OpenRecall(f)
		if err == nil {
			err = d.CloseRecall(id, "every pack was looked at")
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// lowWater has the system measure anew how much memory the program needs at most; where it does not, what was needed before counts too.
func lowWater() {
	runtime.GC()
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0)
}

// highWater is the most memory that was needed since, as the system counts it.
func highWater() string {
	status, _ := os.ReadFile("/proc/self/status")
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	line, _, ok := strings.Cut(rest, "\n")
	if !ok {
		return "an unknown amount"
	}
	return strings.TrimSpace(line)
}

// testedAmong finds the newest load that a spore test was laid into, and that test.
func testedAmong(loads []register.Cycle) (cycle, test model.ID) {
	for _, c := range loads {
		for _, v := range c.State.Entries {
			for _, r := range v.Body().Refs() {
				if v.Body().Kind == model.KindSporePlaced && r.Noun == model.NounTest {
					return c.State.Ref.ID, r.ID
				}
			}
		}
	}
	return cycle, test
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }
