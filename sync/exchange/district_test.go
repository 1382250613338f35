package exchange

import (
	"crypto/ed25519"
	"encoding/binary"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/bundle"
)

// A whole district from a seed: an office and thirty clinics with roots of their own, three years, a cycle a week, and an officer with sticks once a month. Sticks are lost, pulled too early,
// brought late and twice; disks are copied, folders restored, clocks wrong, programs newer than others.

const (
	simClinics = 30
	simWeeks   = 156
)

// clinic is a site's register with the keys that lie in its folder.
type clinic struct {
	*memory
	n          int
	root, site *entry.Author
	device     *entry.Author
	key        ed25519.PrivateKey // of the device
	box        Box
	grant      []entry.ID // what its releases name
	id         model.ID
	skew       time.Duration // its clock
	joined     bool
	last       model.ID // latest cycle
	open       []load   // released, and may be stopped
	growths    []entry.Verified
	clears     []entry.ID
	neighbour  int // to whom it sends packs
}

// load is a released load as the people remember it.
type load struct {
	cycle, pack model.ID
	sent        bool
}

// sim is the district.
type sim struct {
	t       *testing.T
	rng     *rand.Rand
	office  *clinic
	clinics []*clinic
	clones  []*clinic
	keys    int
	files   uint64
	week    int
	post    [][]mail              // sticks on the way, by week of arrival
	stopped map[model.ID]entry.ID // packs, by what stopped them first
	copies  map[int]snapshot      // folders that were put aside
	count   struct{ acts, bundles, lost, torn, twice, clones, restores, newer, bytes int }
}

type snapshot struct {
	week   int
	memory *memory
	open   []load
}

type mail struct {
	to   *clinic
	file File
}

func (s *sim) newKey() ed25519.PrivateKey {
	s.keys++
	seed := make([]byte, ed25519.SeedSize)
	binary.BigEndian.PutUint64(seed, uint64(s.keys))
	seed[31] = byte(s.rng.Uint32())
	return ed25519.NewKeyFromSeed(seed)
}

func (s *sim) newClinic(n int, office bool) *clinic {
	rk, sk, dk := s.newKey(), s.newKey(), s.newKey()
	d := entry.DistrictOf(rk.Public().(ed25519.PublicKey))
	c := &clinic{memory: newMemory(d), n: n, root: entry.NewAuthor(rk, d), site: entry.NewAuthor(sk, d), id: model.ID{byte(n + 1), 0xaa}, neighbour: -1}
	var err error
	if c.box, err = BoxOf(sk.Seed()); err != nil {
		s.t.Fatal(err)
	}
	s.sign(c, c.root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: fmt.Sprint("site ", n)}})
	g := s.sign(c, c.root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: c.id, Key: c.site.Key(), Office: office}})
	c.grant = []entry.ID{{}, g.ID()}
	s.certify(c, dk)
	return c
}

// certify lets the site's key name a new key of the device: at the start, and after a restore.
func (s *sim) certify(c *clinic, key ed25519.PrivateKey) {
	c.key, c.device = key, entry.NewAuthor(key, c.d)
	caps := model.CapRecord | model.CapRelease | model.CapManage
	if c.n < 0 {
		caps |= model.CapDistrict
	}
	v := s.sign(c, c.site, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: c.id, Key: c.device.Key(), Letter: "A", Caps: caps}})
	c.grant[0] = v.ID()
	c.device.Lamport = v.Body().Lamport
}

func (s *sim) sign(c *clinic, a *entry.Author, d entry.Draft) entry.Verified {
	s.count.acts++
	d.Person = model.ID{1}
	wall := time.Date(2027, 1, 4, 9, 0, 0, 0, time.UTC).AddDate(0, 0, 7*s.week).Add(c.skew)
	v, err := a.Sign(d, model.Moment{Wall: wall, Elapsed: time.Duration(s.count.acts) * time.Millisecond}, model.ClockGood)
	if err != nil {
		s.t.Fatal(err)
	}
	a.Advance(v)
	if _, err := c.Receive([]entry.Verified{v}, nil); err != nil {
		s.t.Fatal(err)
	}
	return v
}

func (s *sim) act(c *clinic, k model.Kind, p any, refs ...model.Ref) entry.Verified {
	return s.sign(c, c.device, entry.Draft{Kind: k, Payload: p, Targets: refs})
}

func (s *sim) newID() (id model.ID) {
	binary.BigEndian.PutUint64(id[:], s.rng.Uint64())
	binary.BigEndian.PutUint64(id[8:], s.rng.Uint64())
	return id
}

func ref(n model.Noun, id model.ID) model.Ref { return model.Ref{Noun: n, ID: id} }

// cycle is a week's cycle, from the load to the release.
func (s *sim) cycle(c *clinic) {
	l := load{cycle: s.newID(), pack: s.newID()}
	cycle, pot, pack := ref(model.NounCycle, l.cycle), ref(model.NounSterilizer, model.ID{byte(c.n + 1), 0xbb}), ref(model.NounPack, l.pack)
	b := model.CycleBegun{Sterilizer: pot.ID, Source: model.Live, Packs: []model.LoadPack{{ID: l.pack}}}
	if !c.last.IsZero() {
		b.After = [][]byte{c.last[:]}
	}
	s.act(c, model.KindPackMade, model.PackMade{Label: l.pack.Short()}, pack)
	knows := append([]entry.ID{}, c.clears...)
	for _, g := range c.growths {
		knows = append(knows, g.ID())
	}
	begun := s.sign(c, c.device, entry.Draft{Kind: model.KindCycleBegun, Payload: b, Targets: []model.Ref{cycle, pot, pack}, Relies: knows})
	c.last = l.cycle
	read := s.act(c, model.KindReadings, model.Readings{Source: model.Live}, cycle)
	s.act(c, model.KindCycleClosed, model.CycleClosed{Outcome: model.RanThrough}, cycle)
	s.act(c, model.KindUnloaded, model.Unloaded{Checks: []model.PackCheck{{Pack: l.pack, TapeOK: true, Dry: true, WrapOK: true}}}, cycle, pack)
	good := s.rng.IntN(50) > 0
	if w := s.act(c, model.KindWitness, model.Witness{Reached: good}, cycle); !good {
		s.stop(l.pack, w)
		return
	}
	s.sign(c, c.device, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{cycle, pack}, Relies: append([]entry.ID{begun.ID(), read.ID()}, c.grant...),
		Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	if c.neighbour >= 0 && s.rng.IntN(4) == 0 {
		s.act(c, model.KindPackMoved, model.PackMoved{What: model.MoveSent, To: "neighbour", Site: s.clinics[c.neighbour].id}, pack)
		l.sent = true
	}
	c.open = append(c.open, l)
	if n := len(c.open); n > 12 {
		c.open = c.open[n-12:]
	}
}

// trouble is bad news, late or soon.
func (s *sim) trouble(c *clinic) {
	if len(c.open) == 0 {
		return
	}
	l := c.open[s.rng.IntN(len(c.open))]
	cycle, pack := ref(model.NounCycle, l.cycle), ref(model.NounPack, l.pack)
	var v entry.Verified
	switch s.rng.IntN(6) {
	case 0:
		v = s.act(c, model.KindHold, model.Hold{Code: "stopped", Reason: "x"}, cycle)
	case 1:
		v = s.act(c, model.KindPackSpoilt, model.PackSpoilt{Why: model.SpoiltOpened}, pack)
	case 2:
		v = s.act(c, model.KindReject, model.Reject{Reason: "x"}, cycle, pack)
	case 3:
		s.count.newer++ // a newer program warns of something that this one cannot read
		v = s.act(c, model.Kind(2500), map[int]string{1: "warning"}, pack)
	case 4:
		s.act(c, model.Kind(900), map[int]string{1: "note"}, pack) // or tells something harmless
		return
	default:
		v = s.act(c, model.KindPackOpened, model.PackOpened{Outside: true, Strip: model.StripNot}, pack, cycle)
	}
	s.stop(l.pack, v)
}

func (s *sim) stop(pack model.ID, by entry.Verified) {
	if _, ok := s.stopped[pack]; !ok {
		s.stopped[pack] = by.ID()
	}
}

// send writes what a site lacks; in between it may be lost, torn, late or doubled.
func (s *sim) send(from, to *clinic) {
	s.files++
	e := Errand{Sender: bundle.Sender{District: from.d, Key: from.key, Recipients: Addresses([]string{to.box.Address(), from.box.Address()})}, Counter: from.device.Lamport, To: []entry.Stream{to.device.Stream}}
	binary.BigEndian.PutUint64(e.Sender.ID[:], s.files)
	e.See = s.sees(from, to)
	files, _, err := Out(from.memory, e)
	if err != nil {
		s.t.Fatal(err)
	}
	for _, f := range files {
		s.count.bundles++
		s.count.bytes += len(f.Data)
		if s.rng.IntN(10) == 0 {
			s.count.lost++
			continue
		}
		if s.rng.IntN(20) == 0 { // pulled while it was copied on
			s.count.torn++
			torn := f.Data[:s.rng.IntN(len(f.Data))]
			if r := s.take(to, File{f.Name, torn}); r.Verdict == New || r.Verdict == Have || len(r.New) > 0 {
				s.t.Fatalf("a torn file was taken: %s", r.Verdict)
			}
			continue
		}
		late := s.rng.IntN(6) // weeks in a pocket: sticks overtake each other
		s.post[min(s.week+late, len(s.post)-1)] = append(s.post[min(s.week+late, len(s.post)-1)], mail{to, f})
		if s.rng.IntN(10) == 0 {
			s.count.twice++
			s.post[len(s.post)-1] = append(s.post[len(s.post)-1], mail{to, f})
		}
	}
}

// sees is what a site may see: the office all, a clinic its own, the office's and those of sites that share packs with it.
func (s *sim) sees(from, to *clinic) func(entry.Stream) bool {
	if to == s.office {
		return nil
	}
	may := map[entry.Stream]bool{}
	for _, x := range from.set.Roster().Sites() {
		near := x.ID == to.id || x.Office
		for _, c := range s.clinics {
			if c.id == x.ID && ((c.neighbour >= 0 && s.clinics[c.neighbour].id == to.id) || (to.neighbour >= 0 && s.clinics[to.neighbour] == c)) {
				near = true
			}
		}
		if near {
			for _, stream := range from.set.Roster().Streams(x.ID) {
				may[stream] = true
			}
		}
	}
	return func(x entry.Stream) bool { return may[x] }
}

func (s *sim) take(to *clinic, f File) Report {
	r := In(to.memory, f.Data, to.box.Identity())
	for _, v := range r.New {
		to.device.Lamport = max(to.device.Lamport, v.Body().Lamport)
	}
	for _, v := range r.New { // under our key, and not by us: a copy of this device goes on somewhere, and from now on we are told apart
		if v.Body().Stream == to.device.Stream {
			s.certify(to, s.newKey())
			break
		}
	}
	return r
}

// join takes a clinic in, with the words compared on both sides.
func (s *sim) join(c *clinic) {
	root := c.d
	v := s.act(s.office, model.KindJoined, model.Joined{Root: root[:], Site: c.id, Code: "AAA", Box: c.box.Address()}, ref(model.NounSite, c.id))
	id, head := v.ID(), s.office.d
	if _, err := c.Receive(trustOf(s.office), nil); err != nil {
		s.t.Fatal(err)
	}
	s.sign(c, c.root, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: head[:], Joined: id[:], Compared: true}})
	s.act(s.office, model.KindProven, model.Proven{Joined: id[:]}, ref(model.NounSite, c.id))
	c.joined = true
}

// trustOf is all that the office's answer holds: its own streams.
func trustOf(c *clinic) (out []entry.Verified) {
	for stream, vs := range c.streams {
		if d, ok := c.set.Roster().Device(stream); c.set.Roster().Trusted(stream) || (ok && d.Site == c.id) {
			out = append(out, vs...)
		}
	}
	slices.SortFunc(out, entry.Less)
	return out
}

// copyOf is a register as a copied disk holds it.
func copyOf(m *memory) *memory {
	out := newMemory(m.d)
	for _, v := range m.set.All() {
		out.take(v)
	}
	maps.Copy(out.waiting, m.waiting)
	maps.Copy(out.words, m.words)
	maps.Copy(out.counter, m.counter)
	return out
}

func (s *sim) clone(c *clinic) *clinic {
	s.count.clones++
	x := *c
	x.memory = copyOf(c.memory)
	a, b := *c.device, *c.site
	x.device, x.site = &a, &b
	x.open = slices.Clone(c.open)
	return &x
}

func (s *sim) weekOf() {
	for _, m := range s.post[s.week] {
		if r := s.take(m.to, m.file); r.Verdict != New && r.Verdict != Have && r.Verdict != Foreign {
			s.t.Fatalf("week %d: %s: %v", s.week, r.Verdict, r.Cause)
		}
	}
	for _, c := range append(slices.Clone(s.clinics), s.clones...) {
		s.cycle(c)
		if s.rng.IntN(15) == 0 {
			s.trouble(c)
		}
	}
	for i, c := range s.clinics {
		if !c.joined && s.week > 2 && s.rng.IntN(20) == 0 {
			s.join(c)
		}
		if c.joined && s.week%4 == i%4 {
			s.send(c, s.office)
			s.send(s.office, c)
		}
		if c.neighbour < 0 && c.joined && s.rng.IntN(40) == 0 {
			c.neighbour = (i + 1) % len(s.clinics)
		}
	}
	if s.rng.IntN(40) == 0 && len(s.clones) < 4 { // a disk is copied, and both go on
		if c := s.clinics[s.rng.IntN(len(s.clinics))]; c.joined {
			s.clones = append(s.clones, s.clone(c))
		}
	}
	n := s.rng.IntN(len(s.clinics))
	if old, ok := s.copies[n]; ok && s.week-old.week >= 3 { // a machine dies, and a folder that is weeks old goes on on another: under a new key, certified on the spot
		s.count.restores++
		c := s.clinics[n]
		c.memory, c.open = old.memory, old.open
		delete(s.copies, n)
		seq := c.streams[c.site.Stream]
		last := seq[len(seq)-1]
		c.site.Resume(last.Body().Seq, last.ID(), last.Body().Lamport)
		if vs := c.streams[c.root.Stream]; len(vs) > 0 {
			c.root.Resume(vs[len(vs)-1].Body().Seq, vs[len(vs)-1].ID(), vs[len(vs)-1].Body().Lamport)
		}
		c.last, c.joined = lastCycle(c), c.set.Roster().Head != c.d // from before it joined: it asks again
		s.certify(c, s.newKey())
	} else if !ok && s.rng.IntN(3) == 0 {
		s.copies[n] = snapshot{s.week, copyOf(s.clinics[n].memory), slices.Clone(s.clinics[n].open)}
	}
}

// lastCycle is the latest cycle that a register knows of its own.
func lastCycle(c *clinic) (id model.ID) {
	for _, v := range c.streams[c.device.Stream] {
		if v.Body().Kind == model.KindCycleBegun {
			id = v.Body().Refs()[0].ID
		}
	}
	return id
}

func playDistrict(t *testing.T, seed uint64, clinics, weeks int) *sim {
	s := &sim{t: t, rng: rand.New(rand.NewPCG(seed, 5)), stopped: map[model.ID]entry.ID{}, copies: map[int]snapshot{}, post: make([][]mail, weeks+8)}
	s.office = s.newClinic(-1, true)
	for i := range clinics {
		c := s.newClinic(i, false)
		if s.rng.IntN(8) == 0 {
			c.skew = time.Duration(s.rng.IntN(4000)-2000) * 24 * time.Hour
		}
		s.clinics = append(s.clinics, c)
	}
	for s.week = 0; s.week < weeks; s.week++ {
		s.weekOf()
	}
	return s
}

// settle lets everybody meet the office until nothing is new; nothing is lost any more.
func (s *sim) settle() {
	s.rng = rand.New(rand.NewPCG(1, 1))
	for _, c := range s.clinics {
		if !c.joined {
			s.join(c)
		}
	}
	for _, mails := range s.post[s.week:] {
		for _, m := range mails {
			s.take(m.to, m.file)
		}
	}
	meet := func(from, to *clinic) (news int) {
		e := Errand{Sender: bundle.Sender{District: from.d, Key: from.key, Recipients: Addresses([]string{to.box.Address()})}, Counter: from.device.Lamport, Everything: false, To: []entry.Stream{to.device.Stream}, See: s.sees(from, to)}
		s.files++
		binary.BigEndian.PutUint64(e.Sender.ID[:], s.files)
		files, _, err := Out(from.memory, e)
		if err != nil {
			s.t.Fatal(err)
		}
		for _, f := range files {
			r := s.take(to, f)
			if r.Verdict != New && r.Verdict != Have {
				s.t.Fatalf("%d to %d: %s %v", from.n, to.n, r.Verdict, r.Cause)
			}
			news += len(r.New)
		}
		return news
	}
	for round, news := 0, 1; news > 0; round++ {
		if round > 6 {
			s.t.Fatal("they never come to rest")
		}
		news = 0
		for _, c := range append(slices.Clone(s.clinics), s.clones...) {
			news += meet(c, s.office)
			news += meet(s.office, c)
		}
	}
}

// check: the office has every act of everybody, in whatever order it came; nobody anywhere may use a pack that was stopped; and a clinic that got a pack knows of its stop.
func (s *sim) check() (usable int) {
	for _, c := range append(slices.Clone(s.clinics), s.clones...) {
		for id := range c.byID {
			if !s.office.byID[id] {
				s.t.Fatalf("the office lacks an act that clinic %d holds", c.n)
			}
		}
		if len(c.waiting) > 0 {
			s.t.Fatalf("clinic %d: %d entries wait for ever", c.n, len(c.waiting))
		}
	}
	fresh := register.NewSet(s.office.d)
	all := s.office.set.All()
	for _, i := range s.rng.Perm(len(all)) {
		fresh.Add(all[i])
	}
	for _, x := range append(slices.Clone(s.clinics), s.office) {
		for _, v := range x.set.All() {
			if v.Body().Kind != model.KindRelease {
				continue
			}
			pack := v.Body().Refs()[1]
			word := register.IsUsable(x.set, pack).Word
			if word == register.Usable {
				usable++
				if by, ok := s.stopped[pack.ID]; ok && x.byID[by] {
					s.t.Fatalf("at %d a pack is usable that somebody stopped", x.n)
				}
			}
			if x == s.office && (word != register.IsUsable(fresh, pack).Word || register.Of(fresh, pack).Hash() != register.Of(x.set, pack).Hash()) {
				s.t.Fatal("the same acts in another order show another state")
			}
		}
	}
	return usable
}

func TestWholeDistrict(t *testing.T) {
	seeds, clinics, weeks := uint64(5), simClinics, simWeeks
	if testing.Short() {
		seeds, clinics, weeks = 1, 6, 30
	}
	for seed := range seeds {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			t.Parallel()
			s := playDistrict(t, seed, clinics, weeks)
			s.settle()
			usable := s.check()
			c := s.count
			t.Logf("%d acts, %d bundles of %d KB each, %d lost, %d torn, %d doubled, %d copies, %d restores, %d warnings of newer programs; %d times a pack usable, %d packs stopped",
				c.acts, c.bundles, c.bytes/max(c.bundles, 1)>>10, c.lost, c.torn, c.twice, c.clones, c.restores, c.newer, usable, len(s.stopped))
			if usable == 0 || len(s.stopped) == 0 {
				t.Error("nothing was usable, or nothing stopped: the test proves nothing")
			}
		})
	}
}
