package store

import (
	"math/rand/v2"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// elsewhere is what another device of the same site signed: n notes on packs, and a hold on one of them at the end.
func elsewhere(t *testing.T, w *district, n int) (vs []entry.Verified, held model.Ref) {
	t.Helper()
	a := entry.NewAuthor(key(77), w.dev.District)
	a.Lamport = 1000
	held = model.Ref{Noun: model.NounPack, ID: model.ID{0xaa}}
	sign := func(d entry.Draft) {
		v, err := a.Sign(d, model.Moment{}, model.ClockGood)
		if err != nil {
			t.Fatal(err)
		}
		a.Advance(v)
		vs = append(vs, v)
	}
	for i := range n {
		sign(entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{byte(i + 1)}}}, Payload: model.PackMoved{What: model.MoveStored, To: "A"}})
	}
	sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{held}, Payload: model.Hold{Code: "stopped", Reason: "x"}})
	return vs, held
}

// certifyOther makes the other device one of the site's.
func certifyOther(t *testing.T, w *district) {
	t.Helper()
	g := model.DeviceGrant{Site: model.ID{1}, Key: entry.NewAuthor(key(77), w.dev.District).Key(), Letter: "C", Caps: model.CapRecord}
	site := entry.NewAuthor(key(2), w.dev.District)
	seq, head, lamport, err := w.s.Resume(site.Stream)
	if err != nil {
		t.Fatal(err)
	}
	site.Resume(seq, head, lamport)
	w.sign(site, entry.Draft{Kind: model.KindDeviceGrant, Payload: g})
}

func (w *district) openHolds(t *testing.T, ref model.Ref) (n int) {
	t.Helper()
	if err := w.s.Read(func(r Reader) {
		for _, h := range register.Of(r, ref).Holds {
			if h.Open() {
				n++
			}
		}
	}); err != nil {
		t.Fatal(err)
	}
	return n
}

// Entries come in any order, doubled, in pieces: the state is the same, nothing is lost, and what came before its predecessors waits.
func TestReceiveInAnyOrder(t *testing.T) {
	var want [32]byte
	for seed := range uint64(12) {
		w := found(t, t.TempDir())
		certifyOther(t, w)
		vs, held := elsewhere(t, w, 40)
		rng := rand.New(rand.NewPCG(seed, 1))
		if seed > 0 {
			rng.Shuffle(len(vs), func(i, j int) { vs[i], vs[j] = vs[j], vs[i] })
		}
		taken := 0
		for len(vs) > 0 {
			n := min(1+rng.IntN(9), len(vs))
			r, err := w.s.Receive(append(vs[:n:n], vs[0]))
			if err != nil {
				t.Fatal(err)
			}
			taken += len(r.Taken)
			vs = vs[n:]
		}
		if left, err := w.s.Waiting(); err != nil || len(left) > 0 || taken != 41 {
			t.Fatalf("seed %d: %d taken, %d wait, %v", seed, taken, len(left), err)
		}
		if w.openHolds(t, held) != 1 {
			t.Error("the hold does not count")
		}
		d, err := w.s.Digest()
		if err != nil {
			t.Fatal(err)
		}
		if seed == 0 {
			want = d
		} else if d != want {
			t.Errorf("seed %d: another state", seed)
		}
		if r, err := w.s.Check(nil); err != nil || !r.OK() {
			t.Errorf("seed %d: %+v %v", seed, r, err)
		}
	}
}

// A hold counts at once though the entries before it were lost with a stick; what is good waits. After a start, and with the read tables made anew, it still does.
func TestHoldInTheWaitingRoomCounts(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	certifyOther(t, w)
	vs, held := elsewhere(t, w, 5)
	r, err := w.s.Receive(vs[3:])
	if err != nil || r.Waiting != 3 || len(r.Taken) != 0 {
		t.Fatalf("%+v %v", r, err)
	}
	if w.openHolds(t, held) != 1 {
		t.Fatal("the hold waits")
	}
	if err := w.s.RebuildViews(); err != nil || w.openHolds(t, held) != 1 {
		t.Fatal("with new read tables the hold is gone", err)
	}
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	if w.s, err = Open(dir, Options{}); err != nil {
		t.Fatal(err)
	}
	defer w.s.Close()
	if w.openHolds(t, held) != 1 {
		t.Fatal("after a start the hold is gone")
	}
	if r, err = w.s.Receive(vs[:3]); err != nil || len(r.Taken) != 6 {
		t.Fatalf("%d taken, %v", len(r.Taken), err)
	}
	if left, _ := w.s.Waiting(); len(left) != 0 || w.openHolds(t, held) != 1 {
		t.Errorf("%d still wait, %d holds", len(left), w.openHolds(t, held))
	}
	if r, err := w.s.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

// Of a copied device that went on beside its original both branches are kept; both count as facts and holds, and the fork is known.
func TestForkKeepsBothBranches(t *testing.T) {
	w := found(t, t.TempDir())
	certifyOther(t, w)
	vs, held := elsewhere(t, w, 3)
	a := entry.NewAuthor(key(77), w.dev.District)
	a.Resume(vs[1].Body().Seq, vs[1].ID(), 2000)
	var branch []entry.Verified
	for range 2 {
		v, err := a.Sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{0xbb}}}, Payload: model.Hold{Code: "stopped", Reason: "y"}}, model.Moment{}, model.ClockGood)
		if err != nil {
			t.Fatal(err)
		}
		a.Advance(v)
		branch = append(branch, v)
	}
	for _, piece := range [][]entry.Verified{vs, branch} {
		if _, err := w.s.Receive(piece); err != nil {
			t.Fatal(err)
		}
	}
	stream := vs[0].Body().Stream
	if got := w.s.Forked(stream); got != 3 {
		t.Fatalf("forked at %d", got)
	}
	if w.openHolds(t, held) != 1 || w.openHolds(t, model.Ref{Noun: model.NounPack, ID: model.ID{0xbb}}) != 2 {
		t.Error("a branch's holds do not count")
	}
	heads, err := w.s.Heads()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, h := range heads {
		if h.Stream == stream {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d heads", n)
	}
	if r, err := w.s.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
	if err := w.s.StartCheck(); err != nil {
		t.Error(err)
	}
}

// An entry that names a wrong one before it (of another stream, or of another number) is not taken: a hole in a stream would look like damage at the next start.
func TestEntriesThatDoNotFollowAreNotTaken(t *testing.T) {
	w := found(t, t.TempDir())
	certifyOther(t, w)
	vs, _ := elsewhere(t, w, 3)
	if _, err := w.s.Receive(vs); err != nil {
		t.Fatal(err)
	}
	for name, resume := range map[string]struct {
		seq  uint64
		head entry.ID
	}{"a jump": {50, vs[1].ID()}, "another stream": {4, w.grant}} {
		a := entry.NewAuthor(key(77), w.dev.District)
		a.Resume(resume.seq, resume.head, 5000)
		v, err := a.Sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{0xcc}}}, Payload: model.Hold{Code: "stopped", Reason: "x"}}, model.Moment{}, model.ClockGood)
		if err != nil {
			t.Fatal(err)
		}
		r, err := w.s.Receive([]entry.Verified{v})
		if err != nil || len(r.Taken) != 0 || r.Waiting != 1 {
			t.Errorf("%s: %+v %v", name, r, err)
		}
	}
	if err := w.s.StartCheck(); err != nil {
		t.Error(err)
	}
	if w.openHolds(t, model.Ref{Noun: model.NounPack, ID: model.ID{0xcc}}) == 0 {
		t.Error("a stop, however odd, counts")
	}
}
