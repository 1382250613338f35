package app

import (
	"bytes"
	"crypto/ed25519"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

// carryPacks is the number of packs whose acts go onto a stick and come in at another device: some 7 acts a pack. MVUKE_CARRY_PACKS makes it another.
func carryPacks() int {
	if n, err := strconv.Atoi(os.Getenv("MVUKE_CARRY_PACKS")); err == nil {
		return n
	}
	return 5000
}

// BenchmarkCarry takes everything out and brings it in, with every byte and signature verified; figures are per act. The baselines are the same entries'
// signatures checked alone, and their bytes inserted into a register alone, in the same run.
func BenchmarkCarry(b *testing.B) {
	b.Setenv("MVUKE_STATE", b.TempDir())
	from, empty := b.TempDir(), b.TempDir()
	check := func(err error) {
		b.Helper()
		if err != nil {
			b.Fatal(err)
		}
	}
	check(demo.Small(from, largeNow))
	check(os.CopyFS(empty, os.DirFS(from)))
	check(demo.Grow(from, carryPacks(), largeNow))
	d, err := work.Open(from, work.Options{Clock: demo.NewClock(largeNow)})
	check(err)
	defer d.Close()
	p, err := d.Place()
	check(err)
	stick := b.TempDir()
	taken, err := d.TakeOut(p.ID, stick, true, nil)
	check(err)
	vs, err := d.Store.Last(1 << 30)
	check(err)
	var size int64
	for _, f := range taken.Files {
		fi, err := os.Stat(filepath.Join(stick, f))
		check(err)
		size += fi.Size()
	}
	b.Logf("%d acts, %d bytes of bundle an act", taken.Entries, size/int64(taken.Entries))
	per := func(b *testing.B, n int) { b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/act") }
	b.Run("out", func(b *testing.B) {
		for b.Loop() {
			_, err := d.TakeOut(p.ID, b.TempDir(), true, nil)
			check(err)
		}
		per(b, taken.Entries)
	})
	b.Run("in", func(b *testing.B) {
		n := 0
		for b.Loop() {
			b.StopTimer()
			dir := filepath.Join(b.TempDir(), "copy")
			check(os.CopyFS(dir, os.DirFS(empty)))
			to, err := work.Open(dir, work.Options{Clock: demo.NewClock(largeNow)})
			check(err)
			b.StartTimer()
			in, err := to.BringIn(stick)
			check(err)
			b.StopTimer()
			for _, f := range in.Files {
				n += f.News
			}
			check(to.Close())
			b.StartTimer()
		}
		per(b, n/b.N)
	})
	b.Run("fold", func(b *testing.B) { // what is verified already: every noun folded once, in memory
		for b.Loop() {
			src := register.NewSet(d.Store.District())
			src.Add(vs...)
			nouns := map[model.Ref]bool{}
			for _, v := range vs {
				for _, ref := range v.Body().Refs() {
					nouns[ref] = true
				}
			}
			held := 0
			for ref := range nouns {
				held += len(register.Of(src, ref).Holds)
			}
		}
		per(b, len(vs))
	})
	b.Run("keep", func(b *testing.B) { // what is verified already: into the register and its read tables, folded there
		for b.Loop() {
			b.StopTimer()
			st, err := store.Open(b.TempDir(), store.Options{})
			check(err)
			check(st.SetDistrict(d.Store.District()))
			b.StartTimer()
			for some := range slices.Chunk(vs, 4096) {
				check(st.Append(some...))
			}
			b.StopTimer()
			check(st.Close())
			b.StartTimer()
		}
		per(b, len(vs))
	})
	b.Run("SignaturesBaseline", func(b *testing.B) {
		for b.Loop() {
			for _, v := range vs {
				x := v.Sealed()
				id := v.ID()
				if !ed25519.Verify(x.Key, append([]byte("mvuke sign 1"), id[:]...), x.Sig) {
					b.Fatal("a signature")
				}
			}
		}
		per(b, len(vs))
	})
	b.Run("InsertBaseline", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			st, err := store.Open(b.TempDir(), store.Options{})
			check(err)
			check(st.SetDistrict(d.Store.District()))
			b.StartTimer()
			check(st.InsertOnly(vs))
			b.StopTimer()
			check(st.Close())
			b.StartTimer()
		}
		per(b, len(vs))
	})
	if len(vs) == 0 || bytes.Equal(vs[0].Sealed().Body, nil) || vs[0].ID() == (entry.ID{}) {
		b.Fatal("nothing was measured")
	}
}
