package work

import (
	"crypto/ed25519"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/google/uuid"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
	"mvuke/model/trust"
)

// Desk is an open register with the device that signs for it.
type Desk struct {
	Dir     string
	Clock   model.Clock
	Store   *store.Store
	Restart model.Moment // when this desk was opened
	Memory  home.Memory  // what the witness said at opening

	fs      home.FS
	rnd     model.Random
	lock    *home.Lock
	witness *home.WitnessFile
	mu      sync.Mutex
	author  *entry.Author
	acting  model.ID
	actedAt model.Moment
	state   model.ClockState
	asked   bool
	sure    time.Time // newest entry of ours whose date is not in doubt
	unsure  bool      // an act was not saved, or was and nobody said so
}

// Options of Open. Zero values are the real things.
type Options struct {
	FS     home.FS
	Clock  model.Clock
	Random model.Random
	Sync   string // synchronous pragma; only the power-cut test sets it
}

// Built is the time before which no clock can be right.
var Built = time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)

// Open opens the register in a folder, or an empty one for SetUp. It refuses a disk that
// is not safe, a second copy of the program and a register of a newer version.
func Open(dir string, o Options) (d *Desk, err error) {
	if o.FS == nil {
		o.FS = home.Disk{}
	}
	if o.Clock == nil {
		o.Clock = home.SystemClock{}
	}
	if o.Random == nil {
		o.Random = rand.Reader
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, refuse("folder", dir, err.Error())
	}
	if err := home.CheckDisk(dir); err != nil {
		var bad *home.BadDisk
		if errors.As(err, &bad) {
			return nil, wrap(err, "bad-disk", bad.Kind)
		}
		return nil, wrap(err, "folder", dir, err.Error())
	}
	d = &Desk{Dir: dir, Clock: o.Clock, fs: o.FS, rnd: o.Random, Restart: o.Clock.Now(), Memory: home.MemoryGood}
	if d.lock, err = home.TakeLock(dir); err != nil {
		if errors.Is(err, home.ErrRunning) {
			return nil, wrap(err, "already-open")
		}
		return nil, err
	}
	if err := d.open(o); err != nil {
		return nil, errors.Join(err, d.Close())
	}
	return d, nil
}

func (d *Desk) open(o Options) (err error) {
	d.Store, err = store.Open(d.Dir, store.Options{Synchronous: o.Sync, Ballast: func() bool { return home.DropBallast(d.Dir) }})
	switch {
	case errors.Is(err, store.ErrNewer):
		return wrap(err, "newer-register")
	case errors.Is(err, store.ErrForeign):
		return wrap(err, "foreign-register", d.Dir)
	case err != nil:
		return d.unread(err)
	}
	if err := d.Store.StartCheck(); err != nil {
		return d.unread(err)
	}
	if d.witness, err = home.OpenWitness(d.fs, d.Dir); err != nil {
		return err
	}
	if err := home.KeepBallast(d.Dir); err != nil {
		return err
	}
	key, err := home.LoadKey(d.fs, d.Dir, home.DeviceKey)
	if errors.Is(err, fs.ErrNotExist) {
		if n, err := d.Store.Count(); err != nil || n == 0 {
			return err // to be set up, or a set-up cut short before its first entry
		}
		return d.newStream() // a register without its key: a copied file
	}
	if err != nil {
		return wrap(err, "damaged-key")
	}
	return d.resume(key)
}

// resume goes on with our stream, or starts a new one where the witness says that this
// register is a copy or was brought back from one.
func (d *Desk) resume(key ed25519.PrivateKey) error {
	a := entry.NewAuthor(key, d.Store.District())
	seq, head, lamport, err := d.Store.Resume(a.Stream)
	if err != nil {
		return d.unread(err)
	}
	w, ok, err := d.witness.Read()
	if err != nil {
		return err
	}
	d.Memory = home.Remember(w, ok, a.Stream[:], seq, func(n uint64) ([]byte, bool) {
		id, found := d.Store.HeadAt(a.Stream, n)
		return id[:], found
	})
	a.Resume(seq, head, lamport)
	d.author = a
	if d.Memory == home.MemoryGood {
		if ok, err := d.certified(); err != nil {
			return err
		} else if !ok && seq == 0 {
			return d.newStream() // cut short between making the key and having it certified
		}
		d.tryRemember()
		return nil
	}
	if err := d.newStream(); err != nil {
		return err
	}
	r := model.Restored{OldStream: a.Stream[:], LastSeq: int64(seq), WitnessSeq: int64(w.Seq)}
	drafts := []entry.Draft{{Kind: model.KindRestored, Payload: r, Targets: []model.Ref{{Noun: model.NounDevice, ID: model.ID(a.Stream)}}}}
	open, err := d.Store.OpenCycles()
	if err != nil {
		return d.unread(err)
	}
	for _, id := range open { // what was recorded after the copy may have been the bad news
		drafts = append(drafts, entry.Draft{Kind: model.KindHold, Payload: model.Hold{Code: HoldRestored}, Targets: []model.Ref{{Noun: model.NounCycle, ID: id}}})
	}
	_, err = d.sign(drafts...)
	return err
}

// HoldRestored stops a load whose later records may be missing.
const HoldRestored = "restored-gap"

// certified says whether a grant names our stream.
func (d *Desk) certified() (ok bool, err error) {
	err = d.read(func(src register.Source) { _, ok = src.Roster().Device(d.author.Stream) })
	return ok, err
}

// newStream makes a new key for this device and has the site's key certify it, on the spot.
func (d *Desk) newStream() error {
	siteKey, err := home.LoadKey(d.fs, d.Dir, home.SiteKey)
	if err != nil {
		return wrap(err, "no-site-key")
	}
	grants, err := d.Store.ByKind(model.KindSiteGrant)
	if err != nil {
		return err
	}
	var site model.ID
	for _, v := range grants {
		var g model.SiteGrant
		if v.Body().Decode(&g) == nil && string(g.Key) == string(siteKey.Public().(ed25519.PublicKey)) {
			site = g.Site
		}
	}
	if site.IsZero() {
		return refuse("no-site-key")
	}
	return d.certify(siteKey, site)
}

func (d *Desk) certify(siteKey ed25519.PrivateKey, site model.ID) error {
	key, err := home.MakeKey(d.fs, d.rnd, d.Dir, home.DeviceKey)
	if err != nil {
		return err
	}
	by := entry.NewAuthor(siteKey, d.Store.District())
	seq, head, lamport, err := d.Store.Resume(by.Stream)
	if err != nil {
		return err
	}
	by.Resume(seq, head, lamport)
	var known int
	if err := d.Store.Read(func(src store.Reader) { known = len(src.Roster().Devices(site)) }); err != nil {
		return err
	}
	grant := model.DeviceGrant{Site: site, Key: key.Public().(ed25519.PublicKey), Letter: letter(known),
		Caps: model.CapRecord | model.CapRelease | model.CapManage}
	v, err := by.Sign(entry.Draft{Kind: model.KindDeviceGrant, Payload: grant,
		Targets: []model.Ref{{Noun: model.NounDevice, ID: model.ID(entry.StreamOf(grant.Key))}, {Noun: model.NounSite, ID: site}}}, d.Clock.Now(), d.state)
	if err != nil {
		return err
	}
	if err := d.Store.Append(v); err != nil {
		return wrap(err, "not-saved")
	}
	d.author = entry.NewAuthor(key, d.Store.District())
	d.author.Resume(0, entry.ID{}, v.Body().Lamport)
	return d.remember()
}

// letter tells the devices of a site apart in what people write; look-alikes are left out.
func letter(n int) string {
	const letters = "ACDEFHJKLMNPRTUVWXY"
	return string(letters[n%len(letters)])
}

func (d *Desk) remember() error {
	return d.witness.Write(d.author.Stream[:], d.author.Seq, d.author.Head[:])
}

// sureOfStream asks the register where our stream stands after a write that failed: it may have
// reached the disk all the same, and its number must not be taken twice.
func (d *Desk) sureOfStream() error {
	if !d.unsure {
		return nil
	}
	seq, head, lamport, err := d.Store.Resume(d.author.Stream)
	if err != nil {
		return err
	}
	d.author.Resume(seq, head, lamport)
	d.unsure = false
	return nil
}

// tryRemember is for where the acts are safe: a witness that cannot be written, on a full disk
// for one, only makes the next start ask more.
func (d *Desk) tryRemember() {
	if err := d.remember(); err != nil {
		fmt.Fprintln(os.Stderr, "mvuke: the witness could not be written:", err)
	}
}

// Close lets everything go.
func (d *Desk) Close() error {
	var errs []error
	if d.Store != nil {
		errs = append(errs, d.Store.Close())
	}
	if d.lock != nil {
		errs = append(errs, d.lock.Release())
	}
	return errors.Join(errs...)
}

// sign signs one act, has it committed, and moves the stream and its witness on.
func (d *Desk) sign(drafts ...entry.Draft) ([]entry.Verified, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.signLocked(drafts...)
}

func (d *Desk) signLocked(drafts ...entry.Draft) ([]entry.Verified, error) {
	if d.author == nil {
		return nil, refuse("not-set-up")
	}
	if err := d.sureOfStream(); err != nil {
		return nil, wrap(err, "not-saved")
	}
	now := d.Clock.Now()
	before := *d.author
	var out []entry.Verified
	for _, x := range drafts {
		if x.Person.IsZero() {
			x.Person = d.acting
		}
		v, err := d.author.Sign(x, now, d.state)
		if err != nil {
			*d.author = before
			return nil, err
		}
		d.author.Advance(v)
		out = append(out, v)
	}
	if err := d.Store.Append(out...); err != nil {
		*d.author, d.unsure = before, true
		return nil, wrap(err, "not-saved")
	}
	d.actedAt = now
	for _, v := range out {
		d.saw(v)
	}
	d.tryRemember()
	return out, nil
}

// NewID makes an id for a noun.
func (d *Desk) NewID() model.ID {
	u, err := uuid.NewV7()
	if err != nil { // no randomness: the system is beyond use
		panic(err)
	}
	return model.ID(u)
}

// grant is the entry that certifies our stream; every release and clear names it.
func (d *Desk) grant(r trust.Roster) []entry.ID {
	dev, _ := r.Device(d.author.Stream)
	if len(dev.Grants) == 0 {
		return nil
	}
	return append([]entry.ID{dev.Grants[0].Device}, dev.Grants[0].Site...)
}

// Acting is who acts now; zero: nobody chosen.
func (d *Desk) Acting() model.ID { return d.acting }

// Act sets who acts.
func (d *Desk) Act(person model.ID) { d.acting, d.actedAt = person, d.Clock.Now() }

// IdleMinutes after which the next act asks who.
const IdleMinutes = 3

// Idle says whether the next act must ask who is acting.
func (d *Desk) Idle() bool {
	since, _ := model.Since(d.actedAt, d.Clock.Now())
	return d.acting.IsZero() || since >= IdleMinutes*time.Minute
}

// Stir notes that the person is there.
func (d *Desk) Stir() { d.actedAt = d.Clock.Now() }

// NeedsSetup says that there is no register yet, or that its set-up was cut short.
func (d *Desk) NeedsSetup() bool {
	if d.author == nil {
		return true
	}
	pots, err := d.Store.ByKind(model.KindSterilizer)
	return err == nil && len(pots) == 0
}

// StreamName is our stream, for people.
func (d *Desk) StreamName() string { return hex.EncodeToString(d.author.Stream[:4]) }

// BackupDir is where verified copies lie.
func (d *Desk) BackupDir() string { return filepath.Join(d.Dir, "backup") }

// unread is the refusal for a register that could not be read. A full disk is not damage:
// nobody must be told to bring back a copy for want of room.
func (d *Desk) unread(err error) error {
	if store.Full(err) {
		return wrap(err, "disk-full")
	}
	return wrap(err, "damaged", d.Dir)
}

// QuickCheck looks over the structure of the register's file, for the background after a start.
func (d *Desk) QuickCheck() error {
	if err := d.Store.QuickCheck(); err != nil {
		return wrap(err, "damaged", d.Dir)
	}
	return nil
}

// read runs a fold.
func (d *Desk) read(do func(src register.Source)) error {
	if err := d.Store.Read(func(r store.Reader) { do(r) }); err != nil {
		return d.unread(err)
	}
	return nil
}
