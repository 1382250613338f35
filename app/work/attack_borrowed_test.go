package work_test

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// A removed device of C says that C made B's pack: C's line of a stopped pack goes, by the preference for the own site.
func TestSecondAttackOwnHouseHidesBorrowed(t *testing.T) {
	for _, how := range []string{"own device", "removed device"} {
		x, b, c, packs, load := neighbours(t)
		b.check(b.d.Stop(load, "spores grew"))
		x.round(b, c)
		if !c.line("borrowed-held") {
			t.Fatal("no line")
		}
		d := entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMade{Label: "Z", Present: 1, Listed: 1}}
		if how == "own device" {
			c.put(c.own(), d)
		} else {
			c.put(c.gone(93), d)
		}
		if !c.line("borrowed-held") {
			t.Errorf("%s: C holds a stopped pack of B, and its line is gone", how)
		}
	}
}
