package store_test

import (
	"database/sql"
	"path/filepath"
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

func (x *atk) fill(own *entry.Author) *store.Store { return x.fillIn(x.t.TempDir(), own) }

func (x *atk) fillIn(dir string, own *entry.Author) *store.Store {
	s, err := store.Open(dir, store.Options{Synchronous: "OFF"})
	if err != nil {
		x.t.Fatal(err)
	}
	if err := s.SetDistrict(own.District); err != nil {
		x.t.Fatal(err)
	}
	for range 3 {
		for _, v := range x.all {
			if _, err := s.Receive([]entry.Verified{v}); err != nil && err != store.ErrOtherDistrict {
				x.t.Fatal(err)
			}
		}
	}
	x.t.Cleanup(func() { s.Close() })
	return s
}

func TestSecondAttackNeighbours(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	x.act(x.d1, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{l.p1}, Payload: model.PackMoved{What: model.MoveSent, Site: model.ID{0xD0}}})
	x.hold(x.cd, l.cycle)
	s := x.fill(x.xr)
	a, _ := s.Neighbours(model.ID{0xD0})
	_ = s.RebuildViews()
	b, _ := s.Neighbours(model.ID{0xD0})
	if len(a) != len(b) {
		t.Errorf("as they grew: %d neighbours, made anew: %d", len(a), len(b))
	}
}

// the other way: what the tables remember and a rebuild forgets
func TestSecondAttackNeighboursForgotten(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.act(x.d1, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{l.p1}, Payload: model.PackMoved{What: model.MoveSent, Site: siteC}})
	x.release(x.d1, l)
	s := x.fill(x.xr)
	evil := aroot(200)
	x.act(x.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: evil.District[:], Site: siteB, Name: "n", Code: "AAA", Request: make([]byte, 32)}})
	if _, err := s.Receive(x.all[len(x.all)-1:]); err != nil {
		t.Fatal(err)
	}
	a, _ := s.Neighbours(siteC)
	_ = s.RebuildViews()
	b, _ := s.Neighbours(siteC)
	if len(a) != len(b) {
		t.Errorf("as they grew: %d neighbours, made anew: %d", len(a), len(b))
	}
	c, _ := s.Borrowed(siteC)
	t.Log(len(c))
}

// random: pack tables too
func TestSecondAttackTables(t *testing.T) {
	bad := 0
	for seed := range short(6) {
		h := newHist(t, uint64(seed+1000))
		for range 60 {
			h.step()
			if len(h.loads) > 0 && h.rng.IntN(4) == 0 {
				l := h.loads[h.rng.IntN(len(h.loads))]
				d := h.dev()
				to := []model.ID{siteB, siteC, siteX}[h.rng.IntN(3)]
				h.act(d, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{l.p1}, Payload: model.PackMoved{What: []model.Move{model.MoveSent, model.MoveBack, model.MoveIssued}[h.rng.IntN(3)], Site: to}})
			}
			if h.rng.IntN(20) == 0 {
				ev := aroot(byte(200 + h.rng.IntN(2)))
				h.act(h.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: ev.District[:], Site: []model.ID{siteB, siteC}[h.rng.IntN(2)], Name: "n", Code: "AAA", Request: make([]byte, 32)}})
			}
			if len(h.loads) > 0 && h.rng.IntN(10) == 0 {
				l := h.loads[h.rng.IntN(len(h.loads))]
				h.act(h.dev(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "z"}})
			}
		}
		for own, who := range map[*entry.Author]string{h.br: "B", h.xr: "office", h.cr: "C"} {
			s := h.fill(own)
			look := func() (out [][]model.ID) {
				for _, site := range []model.ID{siteB, siteC, siteX} {
					asFolded(t, s, site)
					p, _ := s.LivePacks(site, 1000)
					q, _ := s.Borrowed(site)
					o, _ := s.OpenCycles(site)
					out = append(out, p, q, o)
				}
				return out
			}
			a, da := look(), mustD(s)
			_ = s.RebuildViews()
			b, db := look(), mustD(s)
			if da != db {
				t.Errorf("seed %d %s digest", seed, who)
			}
			for i := range a {
				if !slices.Equal(a[i], b[i]) {
					bad++
					if bad < 6 {
						t.Errorf("seed %d %s list %d: %d %d", seed, who, i, len(a[i]), len(b[i]))
					}
				}
			}
		}
	}
	_ = register.Held
}

func mustD(s *store.Store) [32]byte { d, _ := s.Digest(); return d }

func TestSecondAttackOrders(t *testing.T) {
	for seed := range short(3) {
		h := newHist(t, uint64(seed+3000))
		for range 50 {
			h.step()
			if len(h.loads) == 0 {
				continue
			}
			l := h.loads[h.rng.IntN(len(h.loads))]
			switch h.rng.IntN(14) {
			case 0:
				ev := aroot(byte(200 + h.rng.IntN(2)))
				h.act(h.od, entry.Draft{Kind: model.KindJoined, Payload: model.Joined{Root: ev.District[:], Site: []model.ID{siteB, siteC}[h.rng.IntN(2)], Name: "n", Code: "AAA", Request: make([]byte, 32)}})
			case 1:
				h.act(h.dev(), entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{l.pot}, Payload: model.Sterilizer{Name: "z"}})
			case 2:
				h.act(h.dev(), entry.Draft{Kind: model.KindPackMade, Targets: []model.Ref{l.p1}, Payload: model.PackMade{Label: "Z"}})
			case 3:
				d := h.dev()
				h.act(h.ck, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteC, Key: d.Key(), Letter: "Z", Caps: acaps}})
			case 4:
				d := h.dev()
				h.act(h.cr, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteC, Key: d.Key()}})
			case 5:
				y := aroot(150)
				id := entry.ID{5}
				h.act(h.br, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: y.District[:], Joined: id[:], Compared: true}})
			case 6:
				h.act(h.dev(), entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: h.rng.IntN(2) == 0, Source: "s"}})
			case 7: // a branch
				d := h.dev()
				if d.Seq > 2 {
					c := *d
					c.Seq, c.Head = d.Seq-1, entry.ID{9}
					v, err := c.Sign(entry.Draft{Kind: model.KindHold, Targets: []model.Ref{l.cycle}, Payload: model.Hold{Code: "stopped"}}, model.Moment{}, 0)
					if err != nil {
						t.Fatal(err)
					}
					h.all = append(h.all, v)
				}
			}
		}
		for own, who := range map[*entry.Author]string{h.br: "B", h.xr: "office", h.cr: "C"} {
			var ds [][32]byte
			for round := range 2 {
				if round == 1 {
					h.rng.Shuffle(len(h.all), func(i, j int) { h.all[i], h.all[j] = h.all[j], h.all[i] })
				}
				s := h.fill(own)
				look := func() (out [][]model.ID) {
					for _, site := range []model.ID{siteB, siteC, siteX} {
						p, _ := s.LivePacks(site, 1000)
						q, _ := s.Borrowed(site)
						o, _ := s.OpenCycles(site)
						for _, l := range [][]model.ID{p, q, o} {
							slices.SortFunc(l, func(a, b model.ID) int { return slices.Compare(a[:], b[:]) })
							out = append(out, l)
						}
					}
					return out
				}
				a, da := look(), mustD(s)
				_ = s.RebuildViews()
				b, db := look(), mustD(s)
				if da != db {
					t.Errorf("seed %d %s order %d: digest grown and made anew", seed, who, round)
				}
				for i := range a {
					if !slices.Equal(a[i], b[i]) {
						t.Errorf("seed %d %s order %d list %d: %d %d", seed, who, round, i, len(a[i]), len(b[i]))
					}
				}
				ds = append(ds, db)
			}
			if ds[0] != ds[1] {
				t.Errorf("seed %d %s: two orders, two states", seed, who)
			}
		}
	}
}

// short is how many histories are played: one, where the run is a short one.
func short(n int) int {
	if testing.Short() {
		return 1
	}
	return n
}

// asFolded says whether the counted loads of a site are what folding each of them gives, and adds up how many were held.
func asFolded(t *testing.T, s *store.Store, site model.ID) (held int) {
	t.Helper()
	ids, err := s.OpenCycles(site)
	if err != nil {
		t.Fatal(err)
	}
	doubt := 0
	if err := s.Read(func(src store.Reader) {
		for _, id := range ids {
			c, _ := register.CycleOf(src, id)
			if slices.ContainsFunc(c.State.Holds, register.Hold.Open) || c.ToConfirm { // what is to be released anew may not be used meanwhile
				held++
			}
			if slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Open() && slices.Contains(register.Doubts, h.Code) }) {
				doubt++
			}
		}
	}); err != nil {
		t.Fatal(err)
	}
	if n, stopped, doubted, err := s.LoadsAt(site); err != nil || n != len(ids) || stopped != held || doubted != doubt {
		t.Errorf("%d loads wait, %d held, %d in doubt; counted are %d, %d and %d; %v", len(ids), held, doubt, n, stopped, doubted, err)
	}
	return held
}

// Registers older than the count of held loads get it when they are opened, and a row that was lost passes for no load that nothing stops.
func TestHeldLoadsAreCounted(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.hold(x.d1, l.cycle)
	dir := t.TempDir()
	s := x.fillIn(dir, x.xr)
	if asFolded(t, s, siteB) != 1 {
		t.Fatal("no load is held")
	}
	for _, harm := range []string{"DROP TABLE stopped; DELETE FROM mark WHERE name = 'stopped'", "DELETE FROM stopped"} {
		s.Close()
		db, err := sql.Open("sqlite", filepath.Join(dir, store.ViewsFile))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(harm); err != nil {
			t.Fatal(err)
		}
		db.Close()
		if s, err = store.Open(dir, store.Options{Synchronous: "OFF"}); err != nil {
			t.Fatal(err)
		}
		if asFolded(t, s, siteB) != 1 {
			t.Errorf("after %q no load is held", harm)
		}
	}
	s.Close()
}
