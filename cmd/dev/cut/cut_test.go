//go:build linux && amd64

package cut

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// prepare skips unless power can be cut here and MVUKE_LONG has one of the
// values, and builds the guest.
func prepare(t *testing.T, values ...string) Options {
	t.Helper()
	if err := Ready(); err != nil {
		t.Skip(err)
	}
	asked := false
	for _, v := range values {
		asked = asked || os.Getenv("MVUKE_LONG") == v
	}
	if !asked {
		t.Skipf("takes long; run with MVUKE_LONG=%s", values[0])
	}
	// Not t.TempDir, whose paths grow too long for a socket.
	dir, err := os.MkdirTemp("", "cut")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Log("the disk is kept in", dir)
			return
		}
		os.RemoveAll(dir)
	})
	guest, err := BuildGuest(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	seed := uint64(time.Now().UnixNano())
	t.Log("seed", seed)
	return Options{Guest: guest, Work: filepath.Join(dir, "w"), Seed: seed, Log: t.Output()}
}

// What was acked with synchronous=FULL outlives a power cut.
func TestFullLosesNothing(t *testing.T) {
	o := prepare(t, "1", "compare")
	o.Cuts, o.Args = 3, []string{"mvuke.sync=FULL"}
	res, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := res.Held(); err != nil {
		t.Error(err)
	}
	if res.Acked() == 0 {
		t.Error("nothing was acked")
	}
}

// The same where every cut falls into the first moments of a new disk, when
// the files themselves have just been made.
func TestFullOnFreshDisks(t *testing.T) {
	o := prepare(t, "compare")
	o.Cuts, o.Args, o.Fresh = 5, []string{"mvuke.sync=FULL"}, true
	o.Min, o.Max = 0, 300*time.Millisecond
	res, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := res.Held(); err != nil {
		t.Error(err)
	}
}

// The trial notices a loss: with synchronous=NORMAL there is one.
func TestCompare(t *testing.T) {
	o := prepare(t, "compare")
	o.Cuts = 15
	if _, _, err := Compare(t.Context(), o, t.Output()); err != nil {
		t.Error(err)
	}
}

func TestRunRefuses(t *testing.T) {
	for _, o := range []Options{
		{},
		{Guest: "guest"},
		{Guest: "guest", Work: t.TempDir(), Min: 2, Max: 1},
	} {
		if _, err := Run(context.Background(), o); err == nil {
			t.Errorf("%+v was accepted", o)
		}
	}
}

func TestResultCounts(t *testing.T) {
	r := Result{Cuts: []Cut{{Acked: 5, Last: 5, Have: 5}, {Acked: 4, Last: 9, Have: 7, Lost: 2}}}
	if acts, cuts := r.Lost(); r.Acked() != 9 || acts != 2 || cuts != 1 || r.Held() == nil {
		t.Errorf("acked %d, lost %d in %d cuts, held: %v", r.Acked(), acts, cuts, r.Held())
	}
	if r := (Result{Cuts: []Cut{{Acked: 5, Last: 5, Have: 5, Bad: "torn"}}}); r.Held() == nil {
		t.Error("damage counts as held")
	}
	if r := (Result{Cuts: []Cut{{Acked: 5, Last: 5, Have: 6}}}); r.Held() != nil {
		t.Error("an act committed and not yet acked counts against the ledger:", r.Held())
	}
}

// The kernel is not needed to see that the archive is one.
func TestInitramfs(t *testing.T) {
	b := initramfs([]byte("hello"))
	field := func(i int) int {
		n, err := strconv.ParseInt(string(b[6+8*i:14+8*i]), 16, 64)
		if err != nil {
			t.Fatal(err)
		}
		return int(n)
	}
	up := func(n int) int { return (n + 3) / 4 * 4 }
	var names []string
	for len(b) > 0 {
		if !bytes.HasPrefix(b, []byte("070701")) {
			t.Fatalf("after %q a header begins with %.6q", names, b)
		}
		size, length := field(6), field(11)
		name := string(b[110 : 110+length-1])
		names = append(names, name)
		b = b[up(110+length):]
		if name == "init" && string(b[:size]) != "hello" {
			t.Errorf("init is %q", b[:size])
		}
		b = b[up(size):]
	}
	if got := strings.Join(names, " "); got != "dev dev/console init TRAILER!!!" {
		t.Errorf("the archive holds %s", got)
	}
}

// A stick that is pulled a moment after the program said that it may be: our recipe loses nothing, on FAT32 by the kernel's own driver; the usual one, which does not flush the folder, must
// lose, or this trial could not find anything out.
func TestYankedStick(t *testing.T) {
	o := prepare(t, "1", "compare")
	if err := ReadyFAT(); err != nil {
		t.Skip(err)
	}
	o.FAT, o.Write, o.Check, o.Fresh = true, "mvuke.mode=stick-write", "mvuke.mode=stick-check", true
	o.Cuts = 3
	if os.Getenv("MVUKE_LONG") == "compare" {
		o.Cuts = 12
	}
	o.Min, o.Max = 0, 1200*time.Millisecond
	ours, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := ours.Held(); err != nil {
		t.Error(err)
	}
	o.Args, o.Work = []string{"mvuke.recipe=usual"}, o.Work+"u"
	usual, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if usual.Held() == nil {
		t.Error("the usual recipe lost nothing: the trial proves nothing")
	}
	lost, _ := ours.Lost()
	more, cuts := usual.Lost()
	t.Logf("ours: %d files promised, %d lost; usual: %d promised, %d lost, in %d of %d yanks", ours.Acked(), lost, usual.Acked(), more, cuts, o.Cuts)
}
