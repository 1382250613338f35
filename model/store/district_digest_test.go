package store_test

import (
	"bytes"
	"crypto/ed25519"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

type Source = register.Source
type Word = register.Word

const Usable = register.Usable

func newAuthor(n byte, d entry.District) *entry.Author { return entry.NewAuthor(akey(n), d) }

// atk is a district: office X, clinics B and C, each with a root of its own.
type atk struct {
	t              *testing.T
	xr, xk, od     *entry.Author
	br, bk, d1, d2 *entry.Author
	cr, ck, cd     *entry.Author
	all            []entry.Verified
	grants         map[entry.Stream][]entry.ID
	joinB, joinC   entry.ID
	at             int64
}

func akey(n byte) ed25519.PrivateKey { return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)) }

func aroot(n byte) *entry.Author {
	k := akey(n)
	return entry.NewAuthor(k, entry.DistrictOf(k.Public().(ed25519.PublicKey)))
}

var siteX, siteB, siteC = model.ID{0xA0}, model.ID{0xB0}, model.ID{0xC0}

const acaps = model.CapRecord | model.CapRelease | model.CapManage

func (x *atk) act(a *entry.Author, d entry.Draft) entry.Verified {
	x.at++
	if d.Person.IsZero() {
		d.Person = model.ID{1}
	}
	if a.Lamport != 0 || a.Seq == 0 {
		a.Lamport = max(a.Lamport, uint64(x.at)+100)
	}
	v, err := a.Sign(d, model.Moment{Wall: time.UnixMilli(x.at)}, model.ClockGood)
	if err != nil {
		x.t.Fatal(err)
	}
	a.Advance(v)
	x.all = append(x.all, v)
	return v
}

func (x *atk) place(root, key *entry.Author, site model.ID, office bool, caps model.Caps, devs ...*entry.Author) {
	x.act(root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "x"}})
	sg := x.act(root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: site, Key: key.Key(), Office: office}})
	for _, d := range devs {
		g := x.act(key, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: site, Key: d.Key(), Letter: "A", Caps: caps}})
		x.grants[d.Stream] = []entry.ID{g.ID(), sg.ID()}
	}
}

func newAtk(t *testing.T, compared bool) *atk {
	x := &atk{t: t, xr: aroot(101), br: aroot(111), cr: aroot(121), grants: map[entry.Stream][]entry.ID{}}
	x.xk, x.od = newAuthor(102, x.xr.District), newAuthor(103, x.xr.District)
	x.bk, x.d1, x.d2 = newAuthor(112, x.br.District), newAuthor(113, x.br.District), newAuthor(114, x.br.District)
	x.ck, x.cd = newAuthor(122, x.cr.District), newAuthor(123, x.cr.District)
	x.place(x.xr, x.xk, siteX, true, acaps|model.CapDistrict, x.od)
	x.place(x.br, x.bk, siteB, false, acaps, x.d1, x.d2)
	x.place(x.cr, x.ck, siteC, false, acaps, x.cd)
	join := func(r *entry.Author, site model.ID, cmp bool) entry.ID {
		j := x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: r.District[:], Site: site, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
		id := j.ID()
		x.act(r, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: x.xr.District[:], Joined: id[:], Compared: cmp}})
		return id
	}
	x.joinB = join(x.br, siteB, true)
	x.joinC = join(x.cr, siteC, compared)
	return x
}

func (x *atk) set(own *entry.Author) *register.Set {
	s := register.NewSet(own.District)
	s.Add(x.all...)
	return s
}

type aload struct {
	cycle, pot, p1, p2 model.Ref
	begun              entry.Verified
}

// load begins a cycle by a device, of a pot that it describes.
func (x *atk) load(d *entry.Author, n byte, made bool) (l aload) {
	l.cycle, l.pot = model.Ref{Noun: model.NounCycle, ID: model.ID{n, 1}}, model.Ref{Noun: model.NounSterilizer, ID: model.ID{n, 2}}
	l.p1, l.p2 = model.Ref{Noun: model.NounPack, ID: model.ID{n, 3}}, model.Ref{Noun: model.NounPack, ID: model.ID{n, 4}}
	x.act(d, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "pot"}})
	if made {
		for _, p := range []model.Ref{l.p1, l.p2} {
			x.act(d, entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{p}, Payload: model.PackMade{Label: "L", Present: 1, Listed: 1}})
		}
	}
	l.begun = x.act(d, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{l.cycle, l.pot, l.p1, l.p2}, Payload: model.CycleBegun{Number: int64(n), Sterilizer: l.pot.ID, Source: model.Live}})
	return l
}

func (x *atk) release(d *entry.Author, l aload, more ...entry.ID) entry.Verified {
	relies := append(slices.Clone(x.grants[d.Stream]), l.begun.ID())
	return x.act(d, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{l.cycle, l.p1, l.p2}, Relies: append(relies, more...), Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
}

func (x *atk) hold(d *entry.Author, on model.Ref) entry.Verified {
	return x.act(d, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{on}, Payload: model.Hold{Code: "stopped", Reason: "wet"}})
}

// random histories of an office and two clinics: nobody is rogue, but for what kinds allows.
type hist struct {
	*atk
	rng   *rand.Rand
	loads []aload
	devs  []*entry.Author
	joins map[*entry.Author][]entry.ID
	n     byte
}

func newHist(t *testing.T, seed uint64) *hist {
	x := &atk{t: t, xr: aroot(101), br: aroot(111), cr: aroot(121), grants: map[entry.Stream][]entry.ID{}}
	x.xk, x.od = newAuthor(102, x.xr.District), newAuthor(103, x.xr.District)
	x.bk, x.d1, x.d2 = newAuthor(112, x.br.District), newAuthor(113, x.br.District), newAuthor(114, x.br.District)
	x.ck, x.cd = newAuthor(122, x.cr.District), newAuthor(123, x.cr.District)
	x.place(x.xr, x.xk, siteX, true, acaps|model.CapDistrict, x.od)
	x.place(x.br, x.bk, siteB, false, acaps, x.d1, x.d2)
	x.place(x.cr, x.ck, siteC, false, acaps, x.cd)
	return &hist{atk: x, rng: rand.New(rand.NewPCG(seed, 5)), devs: []*entry.Author{x.od, x.d1, x.d2, x.cd}, joins: map[*entry.Author][]entry.ID{}}
}

func (h *hist) dev() *entry.Author { return h.devs[h.rng.IntN(len(h.devs))] }

func (h *hist) step() {
	d := h.dev()
	clinic := []*entry.Author{h.br, h.cr}[h.rng.IntN(2)]
	site := siteB
	if clinic == h.cr {
		site = siteC
	}
	var l aload
	if len(h.loads) > 0 {
		l = h.loads[h.rng.IntN(len(h.loads))]
	}
	k := h.rng.IntN(16)
	if len(h.loads) == 0 {
		k = 0
	}
	on := []model.Ref{l.cycle, l.pot, l.p1}[h.rng.IntN(3)]
	switch k {
	case 0:
		if d == h.od {
			d = h.d1
		}
		h.n++
		h.loads = append(h.loads, h.load(d, h.n, h.rng.IntN(2) == 0))
	case 1, 2, 3:
		h.release(d, l)
	case 4, 5:
		h.hold(d, on)
	case 6, 7, 8:
		set := h.set([]*entry.Author{h.br, h.xr, h.cr}[h.rng.IntN(3)])
		var ids, relies []entry.ID
		for _, x := range register.Of(set, on).Holds {
			ids, relies = append(ids, x.ID), append(relies, x.Cause.ID())
		}
		if len(ids) > 0 {
			h.act(d, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{on}, Clears: ids, Relies: append(relies, h.grants[d.Stream]...), Payload: model.Clear{Reason: "r"}})
		}
	case 9:
		id := h.act(h.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: clinic.District[:], Site: site, Name: "n", Code: "AAA", Request: make([]byte, 32)}}).ID()
		h.joins[clinic] = append(h.joins[clinic], id)
	case 10:
		if js := h.joins[clinic]; len(js) > 0 {
			id := js[h.rng.IntN(len(js))]
			h.act(clinic, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: h.xr.District[:], Joined: id[:], Compared: h.rng.IntN(2) == 0}})
		}
	case 11:
		if h.rng.IntN(3) == 0 {
			s := h.dev()
			h.act(h.dev(), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: s.Stream[:], Seq: h.rng.Int64N(int64(s.Seq) + 2), Reason: "lost"}})
		}
	case 12: // the root gives its site its code: the same key is granted again
		r, key := h.br, h.bk
		if clinic == h.cr {
			r, key = h.cr, h.ck
		}
		h.act(r, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: site, Key: key.Key(), Code: "BBB"}})
	case 13:
		h.act(d, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{l.cycle, l.pot}, Payload: model.SporeRead{Grew: true}})
	case 14:
		if h.rng.IntN(2) == 0 { // a new key for a device
			r, key := h.br, h.bk
			if clinic == h.cr {
				r, key = h.cr, h.ck
			}
			a := newAuthor(byte(130+len(h.devs)), r.District)
			g := h.act(key, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: site, Key: a.Key(), Letter: "N", Caps: acaps}})
			sg := h.grants[map[bool]*entry.Author{true: h.cd, false: h.d1}[clinic == h.cr].Stream][1]
			h.grants[a.Stream] = []entry.ID{g.ID(), sg}
			h.devs = append(h.devs, a)
		}
	case 15:
		h.act(d, entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{l.cycle}, Payload: model.Readings{}})
	}
}

func TestAttackDigest(t *testing.T) {
	n := 12
	if testing.Short() {
		n = 3
	}
	if v, err := strconv.Atoi(os.Getenv("MVUKE_HISTORIES")); err == nil {
		n = v
	}
	bad := 0
	for seed := range n {
		h := newHist(t, uint64(seed))
		for range 40 {
			h.step()
		}
		for own, who := range map[*entry.Author]string{h.br: "B", h.xr: "office", h.cr: "C"} {
			var digests [][32]byte
			for round := range 2 {
				s, err := store.Open(t.TempDir(), store.Options{Synchronous: "OFF"})
				if err != nil {
					t.Fatal(err)
				}
				if err := s.SetDistrict(own.District); err != nil {
					t.Fatal(err)
				}
				// who never heard of a joining is not told: first what belongs here, then all once more
				perm := h.rng.Perm(len(h.all))
				for pass := range 3 {
					for i := range h.all {
						v := h.all[i]
						if round == 1 && pass < 2 {
							v = h.all[perm[i]]
						}
						if _, err := s.Receive([]entry.Verified{v}); err != nil && err != store.ErrOtherDistrict {
							t.Fatal(err)
						}
					}
				}
				a, err := s.Digest()
				if err != nil {
					t.Fatal(err)
				}
				if err := s.RebuildViews(); err != nil {
					t.Fatal(err)
				}
				b, _ := s.Digest()
				if a != b {
					bad++
					if bad < 6 {
						t.Errorf("seed %d, %s, order %d: the tables as they grew are not those that are made anew", seed, who, round)
					}
				}
				digests = append(digests, b)
				s.Close()
			}
			if digests[0] != digests[1] {
				bad++
				t.Errorf("seed %d, %s: two orders, two states", seed, who)
			}
		}
	}
	t.Log(bad)
}

// A clear names the second grant of the same site key, and comes before it.
func TestAttackSiteKeyGrantedTwice(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d2, 1, true)
	x.release(x.d2, l)
	hold := x.hold(x.d1, l.cycle)
	second := x.act(x.br, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteB, Key: x.bk.Key(), Code: "BBB"}})
	x.act(x.d1, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.cycle}, Clears: []entry.ID{entry.HoldID(hold.ID(), l.cycle)}, Relies: []entry.ID{x.grants[x.d1.Stream][0], second.ID(), hold.ID()}, Payload: model.Clear{Reason: "r"}})
	s, err := store.Open(t.TempDir(), store.Options{Synchronous: "OFF"})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	_ = s.SetDistrict(x.br.District)
	for _, late := range []bool{false, true} {
		for _, v := range x.all {
			if (v.ID() == second.ID()) == late {
				if _, err := s.Receive([]entry.Verified{v}); err != nil && err != store.ErrOtherDistrict {
					t.Fatal(err)
				}
			}
		}
	}
	a, _ := s.Digest()
	_ = s.RebuildViews()
	if b, _ := s.Digest(); a != b {
		t.Error("the tables as they grew are not those that are made anew")
	}
	_ = register.Held
}
