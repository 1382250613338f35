package work

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
	"mvuke/sync/stick"
)

// Desk is an open register with the device that signs for it.
type Desk struct {
	Dir     string
	Clock   model.Clock
	Store   *store.Store
	Restart model.Moment // when this desk was opened
	Memory  home.Memory  // what the witness said at opening

	Practice bool // a throw-away register of the practice pot

	fs      home.FS
	stick   stick.FS
	rnd     model.Random
	lock    *home.Lock
	witness *home.WitnessFile
	mu      sync.Mutex

	numbering sync.Mutex
	author    *entry.Author
	acting    model.ID
	actedAt   model.Moment
	state     model.ClockState
	asked     bool
	sure      time.Time // newest entry of ours whose date is not in doubt
	taught    map[model.ID]*learnt
	unsure    bool // an act was not saved, or was and nobody said so

	standing  stoodAt   // of the clinics
	rules     rulesRead // of other clinics
	copied    bool      // entries under our key came from elsewhere
	throwAway bool      // nothing in the folder was ever more than practice
}

// Options of Open. Zero values are the real things.
type Options struct {
	FS     home.FS
	Stick  stick.FS // sticks, and folders that stand for one
	Clock  model.Clock
	Random model.Random
	Sync   string // synchronous pragma; only the power-cut test sets it

	Practice bool // every cycle says that it is practice; nothing can be released
}

// Built is the time before which no clock can be right.
var Built = time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)

// Open opens the register in a folder, or an empty one for SetUp. It refuses a disk that
// is not safe, a second copy of the program and a register of a newer version.
func Open(dir string, o Options) (d *Desk, err error) {
	if o.FS == nil {
		o.FS = home.Disk{}
	}
	if o.Stick == nil {
		o.Stick = stick.Disk{}
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
	d = &Desk{Dir: dir, Clock: o.Clock, fs: o.FS, stick: o.Stick, rnd: o.Random, Restart: o.Clock.Now(), Memory: home.MemoryGood, Practice: o.Practice}
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
	if err := goOn(d.fs, d.Dir); err != nil {
		var told *Refusal
		if errors.As(err, &told) {
			return err
		}
		return wrap(err, "folder", d.Dir, err.Error())
	}
	d.Store, err = store.Open(d.Dir, store.Options{Synchronous: o.Sync, FS: d.fs, Ballast: func() bool { return home.DropBallast(d.Dir) }})
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
	if err := d.founded(); err != nil {
		return err
	}
	if !o.Practice {
		if err := home.KeepBallast(d.Dir); err != nil {
			return err
		}
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

// founded sees whether the root of this register was made for practice: it stays so wherever its folder is opened.
func (d *Desk) founded() error {
	vs, err := d.Store.ByKind(model.KindFounding)
	if err != nil {
		return d.unread(err)
	}
	d.throwAway = len(vs) == 0
	for _, v := range vs {
		var f model.Founding
		if v.Body().Decode(&f) == nil && f.Practice && entry.DistrictOf(v.Sealed().Key) == d.Store.District() { // the root's own word
			d.Practice, d.throwAway = true, true
		}
	}
	return nil
}

// ThrowAway says that nothing in the folder was ever more than practice: by its root, or because it has none.
func (d *Desk) ThrowAway() bool { return d.throwAway }

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

// Forget takes away what this machine remembers of the register, for one that is thrown away.
func (d *Desk) Forget() error { return d.witness.Forget() }

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
	p, err := d.Place()
	if err != nil || len(p.Pots) > 0 {
		return false
	}
	office, err := d.Office()
	return err == nil && !(office && p.Site.Name != "")
}

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

// noun folds one noun.
func (d *Desk) noun(ref model.Ref) (st register.State, err error) {
	err = d.read(func(src register.Source) { st = register.Of(src, ref) })
	return st, err
}

// read runs a fold.
func (d *Desk) read(do func(src register.Source)) error {
	if err := d.Store.Read(func(r store.Reader) { do(r) }); err != nil {
		return d.unread(err)
	}
	return nil
}
