package store

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"path/filepath"
	"sync"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/trust"
)

// Store is an open register. Safe for several goroutines.
type Store struct {
	dir          string
	sync         string // synchronous pragma; FULL but in the test that proves why
	fs           FS
	ballast      func() bool // gives the disk some room; false: nothing left to give
	mu           sync.Mutex
	reg          *sql.DB
	views        *sql.DB
	ask          preparedDB        // of the read tables, for reading
	askReg       preparedDB        // of the register
	amended      map[entry.ID]bool // what somebody corrected; nil: to be read again
	drafts       *sql.DB
	waiting      *sql.DB
	district     entry.District
	roster       trust.Roster
	removalWaits bool
	forks        map[entry.Stream]uint64 // streams with two branches, and the first number of which there are two
	here         map[entry.Stream]uint64 // of these, those of which both branches are in the register and not in the waiting room
	changes      int64                   // how often anything was written, or may have been
	looked       int64                   // up to which place it was looked for them
	lamport      uint64
	broken       bool                     // a failed write closed the files and could not open them again
	viewErr      error                    // why the read tables could not follow; asked for before every read
	known        map[int64]entry.Verified // by place: what was read and verified since the files were opened
	places       map[entry.ID]int64       // where what is known lies
	sat          map[int64]entry.Verified // of the waiting room, by row: what was verified
}

// mostKnown bounds what is kept in memory of what was verified: about 40 MB.
const mostKnown = 1 << 15

// Options of Open.
type Options struct {
	Synchronous string      // "" means FULL
	FS          FS          // for copies; nil: the disk
	Ballast     func() bool // called when the disk is full; says whether there was room to give
}

// Open opens or makes the register in a folder.
func Open(dir string, o Options) (*Store, error) {
	if o.Synchronous == "" {
		o.Synchronous = "FULL"
	}
	if o.FS == nil {
		o.FS = disk{}
	}
	s := &Store{dir: dir, sync: o.Synchronous, ballast: o.Ballast, fs: o.FS}
	err := s.open()
	if s.gaveRoom(errors.Join(err, s.viewErr)) {
		err = errors.Join(s.Close(), s.open())
	}
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// open opens the files. A file that cannot be opened leaves its old handle, which is closed and
// says so to whoever uses it.
func (s *Store) open() error {
	s.known, s.places, s.sat, s.here, s.looked = nil, nil, nil, map[entry.Stream]uint64{}, 0
	reg, err := openFile(filepath.Join(s.dir, RegisterFile), s.sync, registerSQL)
	if err != nil {
		return err
	}
	s.reg, s.askReg = reg, preparedDB{db: reg}
	if _, err := reg.Exec(saidIndex); err != nil && !Full(err) { // a full disk: slower, and as right
		return err
	}
	drafts, err := openFile(filepath.Join(s.dir, DraftsFile), s.sync, draftsSQL)
	if err != nil {
		return err
	}
	s.drafts = drafts
	if err := s.openWaiting(); err != nil {
		return err
	}
	if err := s.missWaiting(); err != nil {
		return err
	}
	views, err := s.openViews()
	if err != nil {
		return err
	}
	s.views, s.ask, s.amended = views, preparedDB{db: views}, nil
	if d, err := s.mine("district"); err != nil {
		return err
	} else if len(d) == len(s.district) {
		s.district = entry.District(d)
	}
	if err := errors.Join(s.findForks(), s.rebuildRoster()); err != nil {
		return err
	}
	if err := s.makeStopped(); err != nil && !Full(err) {
		return err
	}
	if err := s.trustViews(); err != nil && !Full(err) {
		return err
	}
	if s.viewErr = s.followUp(); Full(s.viewErr) {
		return nil // the register is whole, and may be read as far as it goes without the tables
	}
	return s.viewErr
}

// Close closes the files; the register is whole at every moment, closed or not.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.views, s.drafts, s.waiting, s.reg} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}

func (s *Store) mine(name string) ([]byte, error) {
	var b []byte
	err := s.reg.QueryRow("SELECT value FROM mine WHERE name = ?", name).Scan(&b)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	return b, err
}

// SetDistrict names the district once, before the first entry.
func (s *Store) SetDistrict(d entry.District) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.district != (entry.District{}) && s.district != d {
		return errors.New("store: the register belongs to another district")
	}
	if _, err := s.reg.Exec("INSERT OR IGNORE INTO mine (name, value) VALUES ('district', ?)", d[:]); err != nil {
		return err
	}
	s.district = d
	return s.rebuildRoster()
}

// District is the district of the register; zero before it is named.
func (s *Store) District() entry.District { return s.district }

// rebuildRoster folds the trust entries, which are few.
func (s *Store) rebuildRoster() error {
	var vs []entry.Verified
	for _, k := range trust.Kinds {
		got, err := s.query("SELECT pos, body, key, sig FROM entry WHERE kind = ? ORDER BY pos", int64(k))
		if err != nil {
			return err
		}
		vs = append(vs, got...)
	}
	waiting, err := s.waitingRows()
	if err != nil {
		return err
	}
	for _, w := range waiting { // a removal does not wait
		if w.Body().Kind == model.KindDeviceRemoved {
			vs = append(vs, w.Verified)
		}
	}
	s.roster = trust.Build(s.district, vs).Fork(s.forks)
	return nil
}

// query reads entries and verifies each; a row that does not verify is damage.
func (s *Store) query(q string, args ...any) (out []entry.Verified, err error) {
	ps, err := s.placedBy(q, args...)
	for _, p := range ps {
		out = append(out, p.Verified)
	}
	return out, err
}

// placedBy is query with the place of each. What was not read before is verified on all cores.
func (s *Store) placedBy(q string, args ...any) (out []placed, err error) {
	rows, err := s.askReg.Query(q, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var unread []entry.Sealed
	var gaps []int // where they belong
	for rows.Next() {
		var p placed
		var body, key, sig sql.RawBytes
		if err := rows.Scan(&p.pos, &body, &key, &sig); err != nil {
			return nil, err
		}
		known := false
		if p.Verified, known = s.known[p.pos]; !known {
			unread, gaps = append(unread, entry.Sealed{Body: bytes.Clone(body), Key: bytes.Clone(key), Sig: bytes.Clone(sig)}), append(gaps, len(out))
		}
		out = append(out, p)
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	read, err := entry.VerifyAll(unread)
	if err != nil {
		return nil, &Damage{err}
	}
	for i, v := range read {
		p := &out[gaps[i]]
		p.Verified = v
		s.keep(p.pos, v)
	}
	return out, nil
}

// keep remembers a verified entry: an entry never changes, and to verify it costs more than to read it.
func (s *Store) keep(pos int64, v entry.Verified) {
	if s.known == nil || len(s.known) >= mostKnown {
		s.known, s.places = make(map[int64]entry.Verified), make(map[entry.ID]int64)
	}
	s.known[pos], s.places[v.ID()] = v, pos
}

// entriesAt reads the entries at some places, in their order, all at once; what is not there is left out. Where kind is not 0, those of other kinds may be left out too.
func (s *Store) entriesAt(places []int64, kind model.Kind) (out []entry.Verified, err error) {
	at := map[int64]entry.Verified{} // what is known may be forgotten while the others are read
	var unread []int64
	for _, p := range places {
		if v, ok := s.known[p]; ok {
			at[p] = v
		} else if v, ok, err := s.waitingAt(p); ok || err != nil {
			if err != nil {
				return nil, err
			}
			at[p] = v
		} else {
			unread = append(unread, p)
		}
	}
	if len(unread) > 0 {
		q, args := "SELECT pos, body, key, sig FROM entry WHERE pos = ?", []any{unread[0]} // by far the most often it is one
		if len(unread) > 1 {
			among, err := json.Marshal(unread)
			if err != nil {
				return nil, err
			}
			q, args = "SELECT pos, body, key, sig FROM entry WHERE pos IN (SELECT value FROM json_each(?))", []any{string(among)}
		}
		if kind != 0 {
			q, args = q+" AND +kind = ?", append(args, int64(kind))
		}
		read, err := s.placedBy(q, args...)
		if err != nil {
			return nil, err
		}
		for _, p := range read {
			at[p.pos] = p.Verified
		}
	}
	for _, p := range places {
		if v, ok := at[p]; ok {
			out = append(out, v)
		}
	}
	return out, nil
}

// Damage says that something on disk is not what was written.
type Damage struct{ Cause error }

func (d *Damage) Error() string { return "store: the register is damaged: " + d.Cause.Error() }
func (d *Damage) Unwrap() error { return d.Cause }

// Resume tells where a stream stands and the highest Lamport counter known here.
func (s *Store) Resume(stream entry.Stream) (seq uint64, head entry.ID, lamport uint64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return 0, entry.ID{}, 0, err
	}
	vs, err := s.query("SELECT pos, body, key, sig FROM entry WHERE stream = ? ORDER BY seq DESC LIMIT 1", stream[:])
	if err != nil || len(vs) == 0 {
		return 0, entry.ID{}, s.lamport, err
	}
	return vs[0].Body().Seq, vs[0].ID(), s.lamport, nil
}

// FirstOf is the first entry of a stream; ok is false where none is here.
func (s *Store) FirstOf(stream entry.Stream) (v entry.Verified, ok bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return v, false, err
	}
	vs, err := s.query("SELECT pos, body, key, sig FROM entry WHERE stream = ? ORDER BY seq LIMIT 1", stream[:])
	if err != nil || len(vs) == 0 {
		return v, false, err
	}
	return vs[0], true, nil
}

// Changes is a number that is another whenever anything may have been told since: of the register, of what waits, or of whose word counts.
func (s *Store) Changes() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.changes
}

// Count is the number of entries.
func (s *Store) Count() (n int64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return 0, err
	}
	err = s.reg.QueryRow("SELECT coalesce(max(pos), 0) FROM entry").Scan(&n)
	return n, err
}

// HeadAt is the id of a stream's entry with a number.
func (s *Store) HeadAt(stream entry.Stream, seq uint64) (entry.ID, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var b []byte
	err := s.reg.QueryRow("SELECT id FROM entry WHERE stream = ? AND seq = ?", stream[:], int64(seq)).Scan(&b)
	if err != nil || len(b) != len(entry.ID{}) {
		return entry.ID{}, false
	}
	return entry.ID(b), true
}

// Last gives the latest entries, in order of arrival.
func (s *Store) Last(n int) ([]entry.Verified, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.ready(); err != nil {
		return nil, err
	}
	return s.query("SELECT pos, body, key, sig FROM entry WHERE pos > (SELECT coalesce(max(pos), 0) FROM entry) - ? ORDER BY pos", n)
}
