package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Put right, then a new certificate as every year, then it fails.
func TestAttack7ReferenceNewCertificateThenWrong(t *testing.T) {
	b := atD(t)
	ref := b.reference("R", 600)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: right}))
	for _, x := range []struct {
		milli int64
		cert  string
	}{{800, "C-1"}, {800, "C-2"}} {
		b.clk.Pass(time.Hour)
		_, err := b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: x.milli, Certificate: x.cert, Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
		b.check(err)
	}
	packs, _ := b.heldAt(133_000)
	b.clk.Pass(24 * time.Hour)
	n, err := b.d.ReferenceWrong(ref, 8)
	b.check(err)
	if n != 1 || b.word(packs[0]) == register.Usable {
		t.Errorf("%d gauges, line %d, %s", n, b.plan().Frozen.RestartMilli, b.word(packs[0]))
	}
}

// ReferenceWrong after a first one that was a failed check, and the put right of its error after: the two add.
