package register

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

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
		for _, x := range Of(set, on).Holds {
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

func TestAttackLawInADistrict(t *testing.T) {
	n := int(seeds(300))
	if v, err := strconv.Atoi(os.Getenv("MVUKE_HISTORIES")); err == nil {
		n = v
	}
	broke := map[string]int{}
	first := map[string]string{}
	opened, split := 0, 0
	for seed := range n {
		h := newHist(t, uint64(seed))
		for range 40 {
			h.step()
		}
		perm := h.rng.Perm(len(h.all))
		for own, who := range map[*entry.Author]string{h.br: "B", h.xr: "office", h.cr: "C"} {
			for _, order := range []string{"as written", "shuffled"} {
				s := NewSet(own.District)
				before := map[model.Ref]Word{}
				for i := range h.all {
					v := h.all[i]
					if order == "shuffled" {
						v = h.all[perm[i]]
					}
					s.Add(v)
					k := v.Body().Kind
					for _, l := range h.loads {
						now := IsUsable(s, l.p1).Word
						if now == Usable && before[l.p1] != Usable {
							opened++
							// law: named by the release may come later ("cannot tell"): of a held or unreleased pack nothing else opens
							if k != model.KindRelease && k != model.KindClear && (before[l.p1] == Held) && !named(h.all, v.ID()) {
								key := fmt.Sprintf("%s, kind %d, %s", order, k, before[l.p1])
								broke[key]++
								if first[key] == "" {
									first[key] = fmt.Sprintf("seed %d at %s", seed, who)
								}
							}
						}
						before[l.p1] = now
					}
				}
				// any order, the same state
				o := NewSet(own.District)
				o.Add(h.all...)
				for _, l := range h.loads {
					for _, r := range []model.Ref{l.cycle, l.pot, l.p1} {
						if Of(s, r).Hash() != Of(o, r).Hash() {
							split++
						}
					}
				}
			}
		}
	}
	t.Log("opened", opened, "split", split)
	for k, v := range broke {
		t.Errorf("%s: %d times, first %s", k, v, first[k])
	}
	if split > 0 {
		t.Errorf("%d split", split)
	}
}

// named says whether a release or a clear names an entry.
func named(all []entry.Verified, id entry.ID) bool {
	return slices.ContainsFunc(all, func(v entry.Verified) bool {
		return (v.Body().Kind == model.KindRelease || v.Body().Kind == model.KindClear) && slices.Contains(v.Body().Relies, id)
	})
}
