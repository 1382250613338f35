package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
)

// A clinic has two devices, and only one of them was heard of to the end of the month: what the other did is not counted, and the report says so.
func TestAMonthSaysThatADeviceWasNotHeardOf(t *testing.T) {
	b := desk(t)
	second := b.other(7, true)
	b.put(second, stockNote)
	was := b.clk.Wall
	b.clk.Pass(45 * 24 * time.Hour)
	b.cycle(demo.Burn{Packs: 1, Strip: true})
	behind := func(at time.Time) (n int, said bool) {
		t.Helper()
		m, err := b.d.MonthOf(at.Year(), at.Month())
		b.check(err)
		if len(m.Sites) != 1 || !m.Sites[0].Reported {
			t.Fatalf("the month of %s: %+v", at.Format("2006-01"), m.Sites)
		}
		for _, g := range m.Worst(10) {
			said = said || g.Code == "behind"
		}
		return m.Sites[0].Behind, said
	}
	for _, c := range []struct {
		what string
		at   time.Time
	}{{"the month of its last entry", was}, {"this month", b.clk.Wall}} {
		if n, said := behind(c.at); n != 1 || !said {
			t.Errorf("%s: %d devices behind, said %v", c.what, n, said)
		}
	}
	b.put(second, stockNote)
	for _, at := range []time.Time{was, b.clk.Wall} {
		if n, said := behind(at); n != 0 || said {
			t.Errorf("it was heard of since: %d devices behind in %s, said %v", n, at.Format("2006-01"), said)
		}
	}
}

func TestAMonthAsksNothingOfADeviceThatIsTakenOutOrCameLater(t *testing.T) {
	b := desk(t)
	was := b.clk.Wall
	b.clk.Pass(45 * 24 * time.Hour)
	b.cycle(demo.Burn{Packs: 1, Strip: true})
	m := func(at time.Time) work.Figures {
		t.Helper()
		m, err := b.d.MonthOf(at.Year(), at.Month())
		b.check(err)
		return m.Sites[0]
	}
	second := b.other(7, true) // let in now
	if f := m(was); f.Behind != 0 {
		t.Errorf("%d devices behind in a month before they came", f.Behind)
	}
	if f := m(b.clk.Wall); f.Behind != 1 {
		t.Errorf("%d devices behind; nothing was heard of the second one", f.Behind)
	}
	b.remove(second)
	if f := m(b.clk.Wall); f.Behind != 0 {
		t.Errorf("%d devices behind; it was taken out", f.Behind)
	}
}
