package register

import (
	"os"
	"slices"
	"strconv"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// A small world, whole: three devices, five kinds of act, one pack; every history up to a length, every part of it that may have arrived, every order.

const smallKinds = 5 // release, stop, clear, strip not reached, a fact that comes late

// smallHistory writes a history: acts[i] is device and kind. Each device knows what went before.
func smallHistory(acts []int) (s *schedule, told []entry.Verified) {
	s = newSchedule(0)
	s.rng = nil
	if len(s.devices) < 3 {
		panic("the first schedule has fewer than three devices")
	}
	devices := s.devices[:3]
	first := s.sign(devices[0].author, entry.Draft{Kind: model.KindCycleBegun, Payload: model.CycleBegun{Number: 1, Source: model.Live},
		Targets: []model.Ref{{Noun: model.NounCycle, ID: model.ID{1, 1}}, {Noun: model.NounSterilizer, ID: model.ID{1, 2}}, {Noun: model.NounPack, ID: model.ID{1, 3}}}})
	for _, d := range devices {
		d.hear(first)
	}
	cycle, pack := first.Body().Refs()[0], first.Body().Refs()[2]
	s.packs = []model.Ref{pack}
	for _, a := range acts {
		x := devices[a/smallKinds]
		var d entry.Draft
		switch a % smallKinds {
		case 0:
			d = entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{pack}, Relies: []entry.ID{s.grants[x.author.Stream], s.key}, Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}}
			for _, v := range x.Targeting(cycle) {
				if v.Body().Kind == model.KindCycleBegun || v.Body().Kind == model.KindReadings {
					d.Relies = append(d.Relies, v.ID())
				}
			}
		case 1:
			d = entry.Draft{Kind: model.KindHold, Targets: []model.Ref{pack}, Payload: model.Hold{Code: "stopped"}}
		case 2:
			d = entry.Draft{Kind: model.KindClear, Targets: []model.Ref{pack, cycle}, Relies: []entry.ID{s.grants[x.author.Stream], s.key}, Payload: model.Clear{Reason: "r"}}
			for _, ref := range d.Targets {
				for _, h := range Of(x, ref).Holds {
					d.Clears = append(d.Clears, h.ID)
				}
			}
		case 3:
			d = entry.Draft{Kind: model.KindWitness, Targets: []model.Ref{cycle}, Payload: model.Witness{}}
		case 4:
			d = entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cycle}, Payload: model.Readings{}}
		}
		v := s.sign(x.author, d)
		told = append(told, v)
		for _, y := range devices {
			y.hear(v)
		}
	}
	return s, append([]entry.Verified{first}, told...)
}

// histories calls do with every history of a length in which devices appear in their order: others are the same but for names.
func histories(length int, do func([]int)) {
	acts := make([]int, length)
	var next func(i, seen int)
	next = func(i, seen int) {
		if i == length {
			do(acts)
			return
		}
		for device := range min(seen+1, 3) {
			for kind := range smallKinds {
				acts[i] = device*smallKinds + kind
				next(i+1, max(seen, device+1))
			}
		}
	}
	next(0, 0)
}

func TestSmallWorld(t *testing.T) {
	longest := 4
	if n, err := strconv.Atoi(os.Getenv("MVUKE_SMALL_WORLD")); err == nil {
		longest = n
	}
	if testing.Short() {
		longest = 3
	}
	states, played, open := map[[32]byte]bool{}, 0, 0
	for length := 1; length <= longest; length++ {
		histories(length, func(acts []int) {
			s, told := smallHistory(acts)
			played++
			base := s.all[:len(s.all)-len(told)]
			whole := &replica{Set: NewSet(s.district), author: newAuthor(98, s.district)}
			whole.hear(s.all...)
			var full [32]byte
			for part := range 1 << len(told) { // every part of it that may have arrived
				x := arrived{whole, map[entry.ID]bool{}}
				heard := append([]entry.Verified{}, base...)
				for i, v := range told {
					if part>>i&1 == 1 {
						heard = append(heard, v)
					} else {
						x.not[v.ID()] = true
					}
				}
				got, want := IsUsable(x, s.packs[0]).Word == Usable, newReference(heard, s.site.Stream).usable(s.packs[0], s.key)
				if got != want {
					t.Fatalf("%v, part %b: open %v, by the reference %v", acts, part, got, want)
				}
				if got {
					open++
				}
				full = Of(x, s.packs[0]).Hash()
				states[full] = true
			}
			if length > 3 {
				return
			}
			orders(told, func(in []entry.Verified) { // and every order of the whole, of the shorter ones
				x := &replica{Set: NewSet(s.district), author: newAuthor(98, s.district)}
				x.hear(in...)
				x.hear(base...)
				if Of(x, s.packs[0]).Hash() != full {
					t.Fatalf("%v: an order shows a state of its own", acts)
				}
			})
		})
	}
	t.Logf("%d histories of up to %d acts, %d states, %d parts with the pack open", played, longest, len(states), open)
	if open == 0 {
		t.Error("the pack was never open: the test proves nothing")
	}
}

// arrived is a register in which some entries are not here yet.
type arrived struct {
	*replica
	not map[entry.ID]bool
}

func (a arrived) here(vs []entry.Verified) []entry.Verified {
	return slices.DeleteFunc(slices.Clone(vs), func(v entry.Verified) bool { return a.not[v.ID()] })
}

func (a arrived) Targeting(r model.Ref) []entry.Verified { return a.here(a.replica.Targeting(r)) }
func (a arrived) Amending(id entry.ID) []entry.Verified  { return a.here(a.replica.Amending(id)) }
func (a arrived) Entry(id entry.ID) (entry.Verified, bool) {
	v, ok := a.replica.Entry(id)
	return v, ok && !a.not[id]
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
