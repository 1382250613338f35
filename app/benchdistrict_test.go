package app

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/paper"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// districtSizes are the numbers of clinics that are measured, each with a year of weekly loads: what an office waits for must not grow faster than they do. MVUKE_DISTRICT=500x260 measures one
// size more: clinics and loads.
func districtSizes(b *testing.B) (out [][2]int) {
	out = [][2]int{{4, 52}, {12, 52}, {36, 52}}
	var clinics, loads int
	if v := os.Getenv("MVUKE_DISTRICT"); v != "" {
		if _, err := fmt.Sscanf(v, "%dx%d", &clinics, &loads); err != nil {
			b.Fatal(err)
		}
		out = append(out, [2]int{clinics, loads})
	}
	return out
}

// BenchmarkDistrict is what a person at the office waits for, by the number of entries: the screen of clinics, the month of all of them, the recall of a growth with its squares.
func BenchmarkDistrict(b *testing.B) {
	for _, size := range districtSizes(b) {
		b.Setenv("MVUKE_STATE", b.TempDir())
		dir := b.TempDir()
		now := time.Date(2028, 1, 3, 8, 0, 0, 0, time.UTC)
		check := func(err error) {
			b.Helper()
			if err != nil {
				b.Fatal(err)
			}
		}
		check(demo.LargeDistrict(dir, size[0], size[1], now))
		d, err := work.Open(filepath.Join(dir, "office"), work.Options{Clock: demo.NewClock(now)})
		check(err)
		n, err := d.Store.Count()
		check(err)
		people, err := d.People()
		check(err)
		d.Act(people[0].ID)
		sites, err := d.Sites()
		check(err)
		var site model.ID
		for _, s := range sites {
			if !s.Office {
				site = s.ID
			}
		}
		loads, err := d.CyclesAt(site, 4)
		check(err)
		recall, err := d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "measured", Loads: []model.ID{loads[3].State.Ref.ID}, Pot: loads[0].Begun.Sterilizer, Wide: true, Drill: true})
		check(err)
		at := "/" + strconv.Itoa(size[0]) + "clinics" + strconv.FormatInt(n, 10) + "entries"
		run := func(name string, do func() error) {
			b.Run(name+at, func(b *testing.B) {
				for b.Loop() {
					check(do())
				}
			})
		}
		b.Run("Office"+at, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				check(d.Boiled("forceps", 20)) // something was told since: nothing of the last time holds
				b.StartTimer()
				_, err := d.Standings()
				check(err)
			}
		})
		run("Month", func() error {
			m, err := d.MonthOf(2027, time.November)
			if err != nil {
				return err
			}
			return paper.MonthReport(discard{}, assets.For("en"), paper.A4, "x", m, nil, now)
		})
		run("Trace", func() error { _, err := d.Recall(recall); return err })
		run("OpenRegister", func() error {
			check(d.Close())
			d, err = work.Open(filepath.Join(dir, "office"), work.Options{Clock: demo.NewClock(now)})
			return err
		})
		var mem runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&mem)
		b.Logf("%s: %d MB in use", at, mem.HeapInuse>>20)
		check(d.Close())
	}
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }
