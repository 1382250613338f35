package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The error of a reference was written a little too small and is put right, then the day of its next check is put right too. Then it fails its check: it showed 8 too much. Without the first correction every comparison made with it is
// worse by 8.
func TestAttack7ReferenceWrongAfterItWasPutRight(t *testing.T) {
	var lines [2]int64
	for i := range lines {
		b := atD(t)
		ref := b.reference("R", 600)
		b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: right}))
		save := func(milli int64, days int) {
			b.clk.Pass(time.Hour)
			_, err := b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: milli, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 0, days).UnixMilli()})
			b.check(err)
		}
		if i == 1 {
			save(800, 365)
			save(800, 300)
		} else {
			save(600, 300)
		}
		packs, _ := b.heldAt(133_000)
		b.clk.Pass(24 * time.Hour)
		_, err := b.d.ReferenceWrong(ref, 8)
		b.check(err)
		lines[i] = b.plan().Frozen.RestartMilli
		if w := b.word(packs[0]); w == register.Usable {
			t.Errorf("put right before: %v; its reference showed 8 too much, the needle stood at 133, and the pack is %s", i == 1, w)
		}
	}
	if lines[1] < lines[0] {
		t.Errorf("the line is %d, and %d where the reference's error had been put right before", lines[0], lines[1])
	}
}

// The other way about: it failed its check, has a new certificate; then the error of that one is put right.
// The tablet, that has not heard that the error was put right, compares with it later; then it does hear.
