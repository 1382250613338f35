package register

import (
	"maps"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"

	"mvuke/model/entry"
)

// A small world, whole: three devices, five kinds of act, one pack. Every history up to a length in which each device knows all that was done before; every history up to a shorter length in
// which each device knows any part of what the others did, as sticks may have brought it; and of each history every part that may have arrived where the pack is asked for. Histories that
// differ in the names of devices only are one.

// TestSmallWorld plays them. MVUKE_SMALL_WORLD is the length for the long run, in which devices know in part for two acts less.
func TestSmallWorld(t *testing.T) {
	longest := 4
	if n, err := strconv.Atoi(os.Getenv("MVUKE_SMALL_WORLD")); err == nil {
		longest = n
	}
	if testing.Short() {
		longest = 3
	}
	for _, x := range []struct {
		name    string
		longest int
		partly  bool
	}{{"knowing all", longest, false}, {"knowing a part", longest - 1, true}} {
		if x.partly && longest > 4 {
			x.longest = longest - 2
		}
		t.Run(x.name, func(t *testing.T) {
			const lanes = 2
			found := make([]counted, lanes)
			var wg sync.WaitGroup
			for lane := range lanes {
				wg.Go(func() {
					w := newSmall(t)
					w.partly, w.longest, w.lane, w.lanes = x.partly, x.longest, lane, lanes
					w.walk(0)
					found[lane] = w.counted
				})
			}
			wg.Wait()
			sum := found[0]
			for _, f := range found[1:] {
				sum.histories, sum.parts, sum.open = sum.histories+f.histories, sum.parts+f.parts, sum.open+f.open
				maps.Copy(sum.states, f.states)
			}
			t.Logf("%d histories of up to %d acts, %d parts of them, %d states, %d parts with the pack open", sum.histories, x.longest, sum.parts, len(sum.states), sum.open)
			if sum.open == 0 {
				t.Error("the pack was never open: the test proves nothing")
			}
		})
	}
}

// counted is what a walk met.
type counted struct {
	histories, parts, open int
	states                 map[[16]byte]bool
}

// walk goes on from a history with every act that may come next.
func (w *small) walk(seen int) {
	if len(w.told) > w.longest { // the load's own first entry and so many acts
		return
	}
	for device := range min(seen+1, len(w.authors)) {
		for _, knows := range w.mayKnow(device) {
			for kind := range smallKinds {
				if len(w.told) == 2 && (device*smallKinds+kind)%w.lanes != w.lane { // what two acts begin with is one lane's
					continue
				}
				undo := w.act(device, kind, knows)
				if len(w.told) > 2 || w.lane == 0 {
					w.judge()
				}
				w.walk(max(seen, device+1))
				undo()
			}
		}
	}
}

// judge asks of every part of a history that holds its last act whether the pack may be used: the other parts are those of shorter histories.
func (w *small) judge() {
	w.histories++
	last := uint16(1) << (len(w.told) - 1)
	for part := range last {
		here := w.seen(part | last)
		got, want := IsUsable(here, w.pack).Word == Usable, w.reference(here).usable(w.pack, w.key)
		if got != want {
			w.t.Fatalf("%v, part %b: open %v, by the reference %v", w.acts, part|last, got, want)
		}
		if w.parts++; got {
			w.open++
		}
		hash := Of(here, w.pack).Hash()
		w.states[[16]byte(hash[:])] = true
	}
	if len(w.told) > 4 {
		return
	}
	full := Of(w.seen(2*last-1), w.pack).Hash()
	orders(slices.Clone(w.told), func(in []entry.Verified) { // and every order of the whole, of the shorter ones
		x := NewSet(w.district)
		x.Add(in...)
		x.Add(w.base...)
		if Of(x, w.pack).Hash() != full {
			w.t.Fatalf("%v: an order shows a state of its own", w.acts)
		}
	})
}

// orders calls do with every order of some entries.
func orders(vs []entry.Verified, do func([]entry.Verified)) {
	var next func(k int)
	next = func(k int) {
		if k == 1 {
			do(vs)
			return
		}
		for i := range k {
			next(k - 1)
			if k%2 == 0 {
				vs[i], vs[k-1] = vs[k-1], vs[i]
			} else {
				vs[0], vs[k-1] = vs[k-1], vs[0]
			}
		}
	}
	next(len(vs))
}
