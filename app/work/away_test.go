//go:build unix

package work_test

import (
	"os"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// A write that failed may have reached the disk all the same: the next act then follows it, and
// does not take its number a second time.
func TestActThatFailedAndIsThere(t *testing.T) {
	b := desk(t)
	b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	b.check(b.d.Store.Close())
	away := b.dir + ".away"
	b.check(os.Rename(b.dir, away))
	act := func() error { return b.d.AnswerDate(time.Time{}) } // signs without reading first
	if act() == nil {
		t.Fatal("kept where there is no disk")
	}
	signAsTheDesk(b, away)
	b.check(os.Rename(away, b.dir))
	b.check(act())
	if r, err := b.d.Store.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

// signAsTheDesk keeps one entry of the desk's own stream without the desk knowing.
func signAsTheDesk(b *bench, dir string) {
	b.t.Helper()
	key, err := home.LoadKey(home.Disk{}, dir, home.DeviceKey)
	b.check(err)
	s, err := store.Open(dir, store.Options{})
	b.check(err)
	defer s.Close()
	a := entry.NewAuthor(key, s.District())
	seq, head, lamport, err := s.Resume(a.Stream)
	b.check(err)
	a.Resume(seq, head, lamport)
	v, err := a.Sign(entry.Draft{Kind: model.KindStockOut, Payload: model.StockOut{What: "tape"}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	b.check(s.Append(v))
}
