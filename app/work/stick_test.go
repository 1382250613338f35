package work_test

import (
	"bytes"
	"encoding/hex"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
)

// pair is a clinic's laptop and its tablet, which began as a copy of the laptop's folder and has a stream of its own since.
type pair struct {
	*bench
	tablet *work.Desk
	states [2]string
}

func twoDevices(t *testing.T) *pair {
	t.Helper()
	b := desk(t)
	p := &pair{bench: b, states: [2]string{os.Getenv("MVUKE_STATE"), t.TempDir()}}
	b.check(b.d.Close())
	dir := t.TempDir()
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet, err := work.Open(dir, work.Options{Clock: b.clk})
	b.check(err)
	people, err := tablet.People()
	b.check(err)
	tablet.Act(people[0].ID)
	p.tablet = tablet
	t.Cleanup(func() { tablet.Close() })
	t.Setenv("MVUKE_STATE", p.states[0])
	b.open()
	return p
}

// carry takes out of one register and brings into the other; it gives what was said of the files.
func (p *pair) carry(from, to *work.Desk, everything bool) work.BroughtIn {
	p.t.Helper()
	dir := p.t.TempDir()
	_, err := from.TakeOut(p.place().ID, dir, everything, nil)
	p.check(err)
	in, err := to.BringIn(dir)
	p.check(err)
	return in
}

func (p *pair) same() {
	p.t.Helper()
	a, err := p.d.Store.Digest()
	p.check(err)
	b, err := p.tablet.Store.Digest()
	p.check(err)
	if a != b {
		p.t.Error("two registers with one set of entries show two states")
	}
}

func verdicts(in work.BroughtIn) (out []exchange.Verdict) {
	for _, f := range in.Files {
		out = append(out, f.Verdict)
	}
	return out
}

// Two devices of one clinic meet on a stick: each then has what the other wrote, a held pack is held on both, and both show the same.
func TestTwoDevicesMeetOnAStick(t *testing.T) {
	p := twoDevices(t)
	packs, cycle := p.sterile(3)
	in := p.carry(p.d, p.tablet, false)
	if len(in.Files) != 1 || in.Files[0].Verdict != exchange.New || in.Files[0].Kinds[model.KindPackMade] != 3 {
		t.Fatalf("%+v", in)
	}
	a, err := p.tablet.Usable(packs[0])
	if err != nil || a.Word != register.Usable {
		t.Fatalf("at the tablet the pack is %s, %v", a.Word, err)
	}
	p.check(p.tablet.Stop(cycle, "wet"))
	p.carry(p.tablet, p.d, false)
	if a, err := p.d.Usable(packs[0]); err != nil || a.Word != register.Held {
		t.Errorf("stopped at the tablet, and at the laptop it is %s, %v", a.Word, err)
	}
	p.carry(p.d, p.tablet, false) // the word that it arrived goes back
	p.same()
	held, err := p.tablet.HeldElsewhere()
	if err != nil || len(held) != 1 || held[0].Seq < 1 {
		t.Errorf("the tablet does not know what the laptop holds of it: %+v %v", held, err)
	}
}

// Case 75: a stick imported twice changes nothing the second time. Case 85: a lost receipt only makes more be sent than is needed.
func TestCase075And085TwiceAndAgain(t *testing.T) {
	p := twoDevices(t)
	p.sterile(2)
	dir := t.TempDir()
	_, err := p.d.TakeOut(p.place().ID, dir, true, nil)
	p.check(err)
	in, err := p.tablet.BringIn(dir)
	p.check(err)
	before, err := p.tablet.Store.Count()
	p.check(err)
	tape, err := p.tablet.Stock()
	p.check(err)
	again, err := p.tablet.BringIn(dir)
	p.check(err)
	after, err := p.tablet.Store.Count()
	p.check(err)
	tapeAfter, err := p.tablet.Stock()
	p.check(err)
	if v := verdicts(again); len(v) != 1 || v[0] != exchange.Have || before != after || tape[0] != tapeAfter[0] || in.Files[0].Verdict != exchange.New {
		t.Errorf("%v, then %v; %d entries, then %d", verdicts(in), v, before, after)
	}
	if in := p.carry(p.d, p.tablet, false); verdicts(in)[0] != exchange.Have {
		t.Errorf("the receipt never came back, and what is sent again is %v", verdicts(in))
	}
}

// What the other side said it holds is not sent again.
func TestOnlyWhatTheyLackIsSent(t *testing.T) {
	p := twoDevices(t)
	p.sterile(4)
	p.carry(p.d, p.tablet, false)
	p.carry(p.tablet, p.d, false)
	dir := t.TempDir()
	none, err := p.d.TakeOut(p.place().ID, dir, false, nil)
	p.check(err)
	p.check(p.d.TellStock(model.StockTape, 5, true))
	one, err := p.d.TakeOut(p.place().ID, dir, false, nil)
	p.check(err)
	all, err := p.d.TakeOut(p.place().ID, dir, true, nil)
	p.check(err)
	if none.Entries > 1 || one.Entries != none.Entries+1 || all.Entries < 40 {
		t.Errorf("%d, %d and %d entries", none.Entries, one.Entries, all.Entries)
	}
}

// Cases 73, 80, 84: a file pulled at 60 %, one of another district, one of a newer format, and damaged ones: each gets its verdict, nothing of it is taken, and the
// good one beside them still is.
func TestCase073And080And084BadFilesChangeNothing(t *testing.T) {
	p := twoDevices(t)
	p.sterile(1)
	dir := t.TempDir()
	out, err := p.d.TakeOut(p.place().ID, dir, true, nil)
	p.check(err)
	good, err := os.ReadFile(filepath.Join(dir, out.Files[0]))
	p.check(err)
	p.check(os.Remove(filepath.Join(dir, out.Files[0])))
	put := func(name string, b []byte) { p.check(os.WriteFile(filepath.Join(dir, name), b, 0o600)) }
	put("a.MVB", good[:len(good)*6/10])
	newer := bytes.Clone(good)
	newer[9] = 9
	put("b.MVB", newer) // its hash no longer fits: damaged before it is newer
	bit := bytes.Clone(good)
	bit[len(bit)/2] ^= 1
	put("c.MVB", bit)
	put("d.txt", []byte("a letter"))
	before, err := p.tablet.Store.Count()
	p.check(err)
	in, err := p.tablet.BringIn(dir)
	p.check(err)
	after, err := p.tablet.Store.Count()
	p.check(err)
	want := map[string]exchange.Verdict{"a.MVB": exchange.Verdict(bundle.Incomplete), "b.MVB": exchange.Verdict(bundle.Damaged), "c.MVB": exchange.Verdict(bundle.Damaged)}
	for _, f := range in.Files {
		if got := want[filepath.Base(f.File)]; f.Verdict != got {
			t.Errorf("%s: %s, want %s", f.File, f.Verdict, got)
		}
	}
	if len(in.Files) != 3 || after > before+1 { // one: the tablet's own key for receiving
		t.Errorf("%d files, %d entries then %d", len(in.Files), before, after)
	}
	other := desk(t) // another district, which by a slip is locked to the tablet too
	other.sterile(1)
	foreign := t.TempDir()
	_, err = other.d.TakeOut(other.place().ID, foreign, true, nil)
	p.check(err)
	t.Setenv("MVUKE_STATE", p.states[1])
	in, err = p.tablet.BringIn(foreign)
	p.check(err)
	if v := verdicts(in); len(v) != 1 || v[0] != exchange.Verdict(bundle.NotForUs) {
		t.Errorf("another district's stick: %v", v)
	}
	put("good.whatever", good)
	if in, err = p.tablet.BringIn(dir); err != nil || len(in.Files) != 4 {
		t.Fatal(err)
	}
	for _, f := range in.Files {
		if filepath.Base(f.File) == "good.whatever" && f.Verdict != exchange.New {
			t.Errorf("beside bad files the good one is %s", f.Verdict)
		}
	}
}

// Case 82: a restored copy and its original go on side by side; the copy has a stream of its own, nothing is a fork, and cycle numbers given on both stand side by side.
func TestCase082RestoredDeviceIsNoAlarm(t *testing.T) {
	p := twoDevices(t)
	_, one := p.sterile(1)
	two, err := demo.Cycle(p.tablet, p.clk, demo.Burn{Packs: 1, First: 50, Strip: true})
	p.check(err)
	p.carry(p.d, p.tablet, false)
	p.carry(p.tablet, p.d, false)
	p.carry(p.d, p.tablet, false)
	p.same()
	ids, err := p.d.Store.CyclesNumbered(1)
	if err != nil || len(ids) != 2 || !((ids[0] == one && ids[1] == two) || (ids[0] == two && ids[1] == one)) {
		t.Errorf("%d cycles with number 1, %v", len(ids), err)
	}
	for _, d := range []*work.Desk{p.d, p.tablet} {
		heads, err := d.Store.Heads()
		p.check(err)
		for _, h := range heads {
			if d.Store.Forked(h.Stream) != 0 {
				t.Error("an honest copy looks like a fork")
			}
		}
		if r, err := d.Store.Check(nil); err != nil || !r.OK() {
			t.Errorf("%+v %v", r, err)
		}
	}
}

// Case 88: the clocks of the two differ by three days: nothing is refused, and durations stand.
func TestCase088ClocksDiffer(t *testing.T) {
	p := twoDevices(t)
	packs, cycle := p.sterile(1)
	dir := t.TempDir()
	_, err := p.d.TakeOut(p.place().ID, dir, true, nil)
	p.check(err)
	made := p.clk.Wall
	p.clk.Wall = p.clk.Wall.Add(-72 * time.Hour)
	in, err := p.tablet.BringIn(dir)
	p.check(err)
	if f := in.Files[0]; f.Verdict != exchange.New || f.Wall != made.UnixMilli() {
		t.Errorf("%s, made at %d", f.Verdict, f.Wall)
	}
	c, err := p.tablet.Cycle(cycle)
	p.check(err)
	r, err := p.tablet.Judge(c)
	if err != nil || r.Verdict != model.Shown {
		t.Errorf("%s %v", r.Verdict, err)
	}
	if a, err := p.tablet.Usable(packs[0]); err != nil || a.Word != register.Usable {
		t.Errorf("%s %v", a.Word, err)
	}
}

// Case 68: what is written onto a stick holds no register number and no name of a patient, neither outside nor inside.
func TestCase068NoRegisterNumberLeaves(t *testing.T) {
	p := twoDevices(t)
	packs, _ := p.sterile(1)
	p.check(p.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "MAT 4711"}))
	p.carry(p.d, p.tablet, true)
	vs, err := p.tablet.Store.Last(1 << 20)
	p.check(err)
	for _, v := range vs {
		if bytes.Contains(v.Sealed().Body, []byte("4711")) {
			t.Error("a register number travelled")
		}
	}
	x, err := p.tablet.Pack(packs[0])
	p.check(err)
	if _, here := p.tablet.UseOf(x.Opened.Use); here {
		t.Error("the tablet knows the number")
	}
}

// A whole copy of the device's disk goes on under the same key beside the original: both branches are kept, holds of both count, what was released since is looked at again, and
// the device tells itself apart from then on.
func TestAForkIsKeptAndConfirmed(t *testing.T) {
	p := twoDevices(t)
	p.check(p.d.Close())
	image, state := t.TempDir(), t.TempDir() // the whole disk: the witness too
	p.check(os.CopyFS(image, os.DirFS(p.dir)))
	p.check(os.CopyFS(state, os.DirFS(p.states[0])))
	t.Setenv("MVUKE_STATE", state)
	witness(t, p.dir, image)
	clone, err := work.Open(image, work.Options{Clock: p.clk})
	p.check(err)
	t.Cleanup(func() { clone.Close() })
	people, err := clone.People()
	p.check(err)
	clone.Act(people[0].ID)
	p.check(clone.TellStock(model.StockTape, 9, true))
	t.Setenv("MVUKE_STATE", p.states[0])
	p.open()
	packs, cycle := p.sterile(1)
	if clone.StreamName() != p.d.StreamName() {
		t.Skip("the copy was noticed at once: it has a stream of its own")
	}
	p.carry(p.d, p.tablet, true)
	p.carry(clone, p.tablet, true)
	p.carry(p.tablet, p.d, true)
	for name, d := range map[string]*work.Desk{"tablet": p.tablet, "laptop": p.d} {
		a, err := d.Usable(packs[0])
		if err != nil || a.Word == register.Usable {
			t.Errorf("%s: released after the fork, and it is %s, %v", name, a.Word, err)
		}
		c, err := d.Cycle(cycle)
		if err != nil || !c.ToConfirm || c.Settled() {
			t.Errorf("%s: the load is not to be confirmed, %v", name, err)
		}
	}
	if p.d.StreamName() == clone.StreamName() {
		t.Error("the forked device goes on under the same key")
	}
	p.check(clone.Close())
	t.Setenv("MVUKE_STATE", state)
	clone, err = work.Open(image, work.Options{Clock: p.clk}) // the copy too, once it has met the others
	p.check(err)
	clone.Act(people[0].ID)
	before := clone.StreamName()
	p.carry(p.d, clone, true)
	if clone.StreamName() == before || clone.StreamName() == p.d.StreamName() {
		t.Error("the copy goes on under the same key")
	}
	t.Setenv("MVUKE_STATE", p.states[0])
	p.check(p.d.Release(cycle, ""))
	if a, err := p.d.Usable(packs[0]); err != nil || a.Word != register.Usable {
		t.Errorf("confirmed, and %s, %v", a.Word, err)
	}
	if r, err := p.d.Store.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

// witness lets the machine remember of one folder what it remembers of another: the whole disk was copied.
func witness(t *testing.T, from, to string) {
	t.Helper()
	a, err := home.OpenWitness(home.Disk{}, from)
	if err != nil {
		t.Fatal(err)
	}
	x, ok, err := a.Read()
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	b, err := home.OpenWitness(home.Disk{}, to)
	if err != nil {
		t.Fatal(err)
	}
	stream, _ := hex.DecodeString(x.Stream)
	head, _ := hex.DecodeString(x.Head)
	if err := b.Write(stream, x.Seq, head); err != nil {
		t.Fatal(err)
	}
}
