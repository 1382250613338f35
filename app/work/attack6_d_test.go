package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// The battery of the clock is flat, nobody knows the date; the spore test that is read then grew. Its recall ends. Is the growth in any month?
func TestAttack6GrowthWithoutADate(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	test := b.spore(cycle, 365*24*time.Hour, true)
	b.clk.Pass(50 * time.Hour)
	was := b.clk.Wall
	b.reboot(time.Hour, time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(time.Time{})) // "I do not know"
	_, err := b.d.ReadSpore(test, model.SporeRead{Grew: true, ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
	b.reboot(time.Hour, was.Add(3*time.Hour)) // the clock is right again
	b.check(b.d.AnswerDate(was.Add(3 * time.Hour)))
	b.sterileOrNot()
	n, open := 0, 0
	for m := time.November; m <= 13; m++ {
		f := b.zmonth(2026, m)
		n, open = n+f.Grew, open+f.RecallsOpen
	}
	if n == 0 {
		t.Error("a test grew, and no month tells of it; open recalls told:", open)
	}
	r := b.recallOf()
	b.check(b.d.CloseRecall(r.ID, "all looked for"))
	n, open, ended := 0, 0, 0
	for m := time.November; m <= 13; m++ {
		f := b.zmonth(2026, m)
		n, open, ended = n+f.Grew, open+f.RecallsOpen, ended+f.RecallsEnded
	}
	if n == 0 && open == 0 && ended == 0 {
		t.Error("ended: neither growth nor recall is in any month")
	}
}

// A load whose packs went out is rejected by hand; two hundred loads later nobody has answered for it.
func TestAttack6RejectedThenAHundredLoads(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.check(b.d.OpenPack(packs[1], packUse()))
	b.check(b.d.Reject(cycle, "the thermometer inside had not moved"))
	if !b.line("stopped-out") {
		t.Fatal("not on Today")
	}
	for range 205 {
		b.burntAway()
	}
	var codes []string
	for _, l := range b.todayOf() {
		codes = append(codes, l.Code)
	}
	if !b.line("stopped-out") {
		t.Error("one of its packs is in the maternity, the other was used; nobody answered for it, and Today is silent:", codes)
	}
}

// burntAway is a load that was given up before the fire was lit.
func (b *bench) burntAway() {
	b.t.Helper()
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demoPacks(1, int(b.clk.Wall.Unix()%9000)), TestPack: true, WaterML: 2600, Fuel: "wood"})
	b.check(err)
	b.clk.Pass(time.Hour)
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "rain"}))
}
