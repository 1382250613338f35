package work_test

import (
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/register"
)

// A dial in bar to 2.5 was one in kPa to 160: at once, and unit first, span after.
func TestAttack7DialPutRightInTwoSteps(t *testing.T) {
	var got [2]register.Word
	for i := range got {
		b, packs, _ := ranInBar(t, "bar")
		if i == 1 {
			b.correctGauge(func(g *model.GaugeLooks) { g.Unit, g.SpanMilli, g.LineMilli = "kPa", 250_000, 2000 })
			b.clk.Pass(time.Minute)
		}
		b.correctGauge(func(g *model.GaugeLooks) { g.Unit, g.SpanMilli, g.LineMilli = "kPa", 160_000, 2000 })
		got[i] = b.word(packs[0])
	}
	if got[0] != got[1] {
		t.Errorf("put right at once: %s, in two steps: %s", got[0], got[1])
	}
}

// A plate error that grows in two steps: span and line, each.
// One clinic, one device; a rule that is asked of each load is stated anew, the other rules as well. Releases count still; at the neighbour too.
// The clinic is founded, its tablet is let in and taken out since a later day: nothing of before is in doubt.
