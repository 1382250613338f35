package register

import (
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// The rules that must not be, for the test with schedules: each must open a pack that the reference keeps shut, or show two replicas differently.
var scheduleTwins = map[string]func(*replica, model.Ref) bool{
	"last writer wins": func(x *replica, p model.Ref) bool {
		var last entry.Verified
		for _, v := range Of(x, p).Entries {
			if k := v.Body().Kind; k == model.KindRelease || k == model.KindHold || k == model.KindReject {
				last = v
			}
		}
		return !last.IsZero() && last.Body().Kind == model.KindRelease
	},
	"first seen wins": func(x *replica, p model.Ref) bool {
		for _, v := range x.all {
			if slices.Contains(v.Body().Refs(), p) && (v.Body().Kind == model.KindRelease || v.Body().Kind == model.KindHold || v.Body().Kind == model.KindReject) {
				return v.Body().Kind == model.KindRelease
			}
		}
		return false
	},
	"amendment lifts a failure": func(x *replica, p model.Ref) bool {
		return without(x, p, func(h Hold) bool { return len(x.Amending(h.Cause.ID())) > 0 })
	},
	"late negative frees a pack": func(x *replica, p model.Ref) bool {
		return without(x, p, func(h Hold) bool {
			return h.Code == HoldSpore && slices.ContainsFunc(x.all, func(v entry.Verified) bool {
				var r model.SporeRead
				return v.Body().Kind == model.KindSporeRead && v.Body().Decode(&r) == nil && !r.Grew && entry.Less(h.Cause, v) < 0
			})
		})
	},
	"unknown device counts": func(x *replica, p model.Ref) bool {
		a := IsUsable(x, p)
		return a.Word == Usable || (len(a.Holds) == 0 && slices.ContainsFunc(Of(x, p).Claims, func(v entry.Verified) bool { return v.Body().Kind == model.KindRelease }))
	},
	"release without its evidence": func(x *replica, p model.Ref) bool {
		a := IsUsable(x, p)
		return a.Word == Usable || (a.Word == CannotTell && len(a.Holds) == 0)
	},
	"releases of a removed or copied device count": func(x *replica, p model.Ref) bool {
		a := IsUsable(x, p)
		return a.Word == Usable || (a.Word == NotReleased && slices.ContainsFunc(Of(x, p).Entries, func(v entry.Verified) bool {
			return v.Body().Kind == model.KindRelease && !x.Roster().Allows(v)
		}))
	},
	"a clear of one hold lifts all": func(x *replica, p model.Ref) bool {
		return without(x, p, func(h Hold) bool {
			return slices.ContainsFunc(x.all, func(v entry.Verified) bool {
				return v.Body().Kind == model.KindClear && v.Body().Lamport > h.Cause.Body().Lamport
			})
		})
	},
}

// without is usable where holds that a twin does not see are left out.
func without(x *replica, p model.Ref, unseen func(Hold) bool) bool {
	a := IsUsable(x, p)
	if a.Word != Held || a.Release.IsZero() {
		return a.Word == Usable
	}
	return !slices.ContainsFunc(a.Holds, func(h Hold) bool { return !unseen(h) })
}

func TestTwinsFailTheSchedules(t *testing.T) {
	for name, twin := range scheduleTwins {
		caught := false
		for seed := uint64(0); seed < 4000 && !caught; seed++ {
			v := newSchedule(seed).play(36, twin)
			caught = v.unsafe+v.split > 0
		}
		if !caught {
			t.Errorf("%q passed the schedules: they prove nothing against it", name)
		}
	}
}
