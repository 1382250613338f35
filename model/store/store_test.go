package store

import (
	"bytes"
	"crypto/ed25519"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// district is a register with a root, a site and one device.
type district struct {
	t          testing.TB
	s          *Store
	dev        *entry.Author
	grant, key entry.ID
	at         int64
}

func key(n byte) ed25519.PrivateKey { return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)) }

func found(t testing.TB, dir string) *district {
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	d := entry.DistrictOf(key(1).Public().(ed25519.PublicKey))
	if err := s.SetDistrict(d); err != nil {
		t.Fatal(err)
	}
	w := &district{t: t, s: s, dev: entry.NewAuthor(key(3), d)}
	root, site := entry.NewAuthor(key(1), d), entry.NewAuthor(key(2), d)
	w.sign(root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "Ngareli"}})
	w.key = w.sign(root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: model.ID{1}, Key: site.Key()}}).ID()
	w.grant = w.sign(site, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: model.ID{1}, Key: w.dev.Key(), Letter: "A", Caps: 7}}).ID()
	return w
}

func (w *district) sign(a *entry.Author, d entry.Draft) entry.Verified {
	w.t.Helper()
	w.at += 1000
	v, err := a.Sign(d, model.Moment{Wall: time.UnixMilli(w.at)}, model.ClockGood)
	if err != nil {
		w.t.Fatal(err)
	}
	if err := w.s.Append(v); err != nil {
		w.t.Fatal(err)
	}
	a.Advance(v)
	return v
}

func cycleRefs(n byte) []model.Ref {
	return []model.Ref{{Noun: model.NounCycle, ID: model.ID{n, 5}}, {Noun: model.NounSterilizer, ID: model.ID{2}}, {Noun: model.NounPack, ID: model.ID{n, 6}}}
}

func (w *district) cycle(n byte) (load entry.Verified, refs []model.Ref) {
	refs = cycleRefs(n)
	load = w.sign(w.dev, entry.Draft{Kind: model.KindCycleBegun, Targets: refs, Payload: model.CycleBegun{Number: int64(n), Sterilizer: model.ID{2}}})
	return load, refs
}

func TestPragmasHold(t *testing.T) {
	w := found(t, t.TempDir())
	for pragma, want := range map[string]string{"synchronous": "2", "journal_mode": "wal", "foreign_keys": "1", "trusted_schema": "0",
		"busy_timeout": "5000", "cell_size_check": "1", "temp_store": "2", "fullfsync": "1", "checkpoint_fullfsync": "1"} {
		var got string
		if err := w.s.reg.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %q, want %q (%v)", pragma, got, want, err)
		}
	}
	var version string
	if err := w.s.reg.QueryRow("SELECT sqlite_version()").Scan(&version); err != nil {
		t.Fatal(err)
	}
	var a, b, c int
	fmt.Sscanf(version, "%d.%d.%d", &a, &b, &c)
	if a != 3 || b*1000+c < 51003 {
		t.Errorf("SQLite %s is older than 3.51.3, which mended a loss of data", version)
	}
}

func TestActsAreThereAfterReopening(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	load, refs := w.cycle(1)
	w.sign(w.dev, entry.Draft{Kind: model.KindRelease, Targets: refs[:1:1], Relies: []entry.ID{load.ID(), w.grant, w.key},
		Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	before, _ := w.s.Digest()
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if d, _ := s.Digest(); d != before || d == ([32]byte{}) {
		t.Errorf("digest %x, was %x", d, before)
	}
	var word register.Word
	if err := s.Read(func(src Reader) { word = register.IsUsable(src, refs[0]).Word }); err != nil || word != register.Usable {
		t.Errorf("%v %v", word, err)
	}
	seq, head, lamport, err := s.Resume(w.dev.Stream)
	if err != nil || seq != 2 || head != w.dev.Head || lamport != w.dev.Lamport {
		t.Errorf("resume at %d %v %d %v", seq, head, lamport, err)
	}
}

func TestViewsAreDisposable(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	for n := range byte(20) {
		w.cycle(n + 1)
	}
	want, _ := w.s.Digest()
	w.s.Close()
	for _, tail := range []string{"", "-wal", "-shm"} {
		os.Remove(filepath.Join(dir, ViewsFile+tail))
	}
	os.WriteFile(filepath.Join(dir, ViewsFile), []byte("this is no database at all, but it has the right name"), 0o600)
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if got, _ := s.Digest(); got != want {
		t.Errorf("digest %x, want %x", got, want)
	}
	if open, err := s.OpenCycles(model.ID{1}); err != nil || len(open) != 20 {
		t.Errorf("%d open cycles, %v", len(open), err)
	}
	if r, err := s.Check(nil); err != nil || !r.OK() || r.Entries != 23 || r.Streams != 3 {
		t.Errorf("%+v %v", r, err)
	}
}

func TestEntriesCannotBeChangedOrRemoved(t *testing.T) {
	w := found(t, t.TempDir())
	for _, q := range []string{"UPDATE entry SET kind = 1", "DELETE FROM entry"} {
		if _, err := w.s.reg.Exec(q); err == nil {
			t.Errorf("%s went through", q)
		}
	}
}

func TestNewerAndForeignFilesAreRefused(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	if _, err := w.s.reg.Exec("PRAGMA user_version = 99"); err != nil {
		t.Fatal(err)
	}
	w.s.Close()
	before, _ := os.ReadFile(filepath.Join(dir, RegisterFile))
	if _, err := Open(dir, Options{}); !errors.Is(err, ErrNewer) {
		t.Errorf("newer: %v", err)
	}
	if after, _ := os.ReadFile(filepath.Join(dir, RegisterFile)); !bytes.Equal(before, after) {
		t.Error("a newer register was written to")
	}
	other := t.TempDir()
	o := found(t, other)
	o.s.reg.Exec("PRAGMA application_id = 7")
	o.s.Close()
	if _, err := Open(other, Options{}); !errors.Is(err, ErrForeign) {
		t.Errorf("foreign: %v", err)
	}
}

// Every flipped bit that touches an entry is found by the full check or by opening.
func TestFlippedBitsAreFound(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	for n := range byte(12) {
		w.cycle(n + 1)
	}
	if _, err := w.s.Backup(filepath.Join(dir, "copy")); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(filepath.Join(dir, "copy"))
	if err != nil {
		t.Fatal(err)
	}
	bodies := entryBytes(t, w.s)
	missed, tried := 0, 0
	for i := 0; i < len(raw)*8; i += 997 {
		flipped := slices.Clone(raw)
		flipped[i/8] ^= 1 << (i % 8)
		path := filepath.Join(dir, "flipped")
		if err := os.WriteFile(path, flipped, 0o600); err != nil {
			t.Fatal(err)
		}
		tried++
		if r, err := CheckCopy(path); err == nil && r.OK() && !sameEntries(flipped, bodies) {
			missed++
		}
	}
	if missed > 0 || tried < 100 {
		t.Errorf("%d of %d flips changed an entry and were not found", missed, tried)
	}
}

func entryBytes(t *testing.T, s *Store) (out [][]byte) {
	vs, err := s.query("SELECT pos, body, key, sig FROM entry")
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range vs {
		out = append(out, v.Sealed().Body)
	}
	return out
}

func sameEntries(file []byte, bodies [][]byte) bool {
	for _, b := range bodies {
		if !bytes.Contains(file, b) {
			return false
		}
	}
	return true
}

func TestBackupIsWholeAndNeverWrittenOver(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	w.cycle(1)
	path := filepath.Join(dir, "b.mvb")
	r, err := w.s.Backup(path)
	if err != nil || r.Entries != 4 {
		t.Fatalf("%+v %v", r, err)
	}
	if _, err := w.s.Backup(path); err == nil || !strings.Contains(err.Error(), "never written over") {
		t.Errorf("%v", err)
	}
}

func TestDraftsLastKeystroke(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	for _, v := range []string{"1", "13", "131"} {
		if err := w.s.SaveDraft("pot", "needle", v); err != nil {
			t.Fatal(err)
		}
	}
	w.s.Close()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if d, err := s.Draft("pot"); err != nil || d["needle"] != "131" {
		t.Errorf("%v %v", d, err)
	}
	s.DropDraft("pot")
	if d, _ := s.Draft("pot"); len(d) != 0 {
		t.Errorf("%v", d)
	}
}
