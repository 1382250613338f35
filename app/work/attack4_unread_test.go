package work_test

import (
	"os"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/model"
)

// A doubt that cannot be read lists no patients.
func TestUnreadDoubtListsNoPatients(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
	b.open()
	a := demo.Answers("en")
	a.Site.HeightM, a.Site.How, a.Site.WithinM = 2400, model.BySurvey, 10
	a.Gauge.Unit, a.Gauge.SpanMilli, a.Gauge.LineMilli, a.Gauge.ClassMilli = "psi", 30_000, 500, 1000
	b.check(b.d.SetUp(a))
	b.proven()
	t.Cleanup(func() { b.d.Close() })
	p := &pair{bench: b, states: [2]string{os.Getenv("MVUKE_STATE"), t.TempDir()}}
	b.check(b.d.Close())
	dir := t.TempDir()
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet := &bench{t: t, dir: dir, clk: b.clk}
	tablet.open()
	p.tablet = tablet.d
	t.Cleanup(func() { tablet.d.Close() })
	t.Setenv("MVUKE_STATE", p.states[0])
	b.open()
	p.carry(p.tablet, b.d, false)
	b.clk.Pass(24 * time.Hour)

	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	b.clk.Pass(48 * time.Hour)
	packs, cycle := tablet.heldAt(21_500)
	tablet.check(tablet.d.OpenPack(packs[0], packUse()))
	p.carry(p.tablet, b.d, false)
	_, err := b.d.LookBack(cycle)
	b.check(err)
	_, err = b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	r := b.recallOf()
	if r.Square(packs[0]) != nil && !r.Square(packs[0]).Owed {
		t.Error("nothing is known of the dial that was watched, and the person it was used on is 'not to be told: the least dose was guaranteed'")
	}
}
