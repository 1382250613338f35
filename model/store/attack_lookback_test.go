package store_test

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// grow lets a register that knows the district hear what is told next, one entry after another.
func (x *atk) grow(own *entry.Author, tell func()) *store.Store {
	x.t.Helper()
	s, from := x.fill(own), len(x.all)
	tell()
	for _, v := range x.all[from:] {
		if _, err := s.Receive([]entry.Verified{v}); err != nil {
			x.t.Fatal(err)
		}
	}
	return s
}

// asRebuilt says that the tables as they grew are those that are made anew.
func (x *atk) asRebuilt(s *store.Store) {
	x.t.Helper()
	grown, err := s.Digest()
	if err != nil {
		x.t.Fatal(err)
	}
	if err := s.RebuildViews(); err != nil {
		x.t.Fatal(err)
	}
	if anew, err := s.Digest(); err != nil || anew != grown {
		x.t.Errorf("as they grew %x, made anew %x %v", grown[:4], anew[:4], err)
	}
}

// loadOn begins a load with packs in its payload, watched by a gauge.
func (x *atk) loadOn(d *entry.Author, n byte, gauge model.ID) (cycle, pack model.Ref) {
	cycle, pack = model.Ref{Noun: model.NounCycle, ID: model.ID{n, 1}}, model.Ref{Noun: model.NounPack, ID: model.ID{n, 3}}
	pot := model.Ref{Noun: model.NounSterilizer, ID: model.ID{n, 2}}
	x.act(d, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{cycle, pot, pack}, Payload: model.CycleBegun{Number: 1, Sterilizer: pot.ID, Gauge: gauge,
		Packs: []model.LoadPack{{ID: pack.ID, Label: "L"}}, Plan: model.FrozenPlan{NeedPa: 100_000, ErrorPa: 1000}}})
	return cycle, pack
}

func (x *atk) raised(d *entry.Author, site model.ID) {
	x.act(d, entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounSite, ID: site}, {Noun: model.NounHeight, ID: site}}, Payload: model.Site{Name: "x", RaisedPa: 120_000}})
}

func (x *atk) compared(d *entry.Author, gauge model.ID) {
	x.act(d, entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: gauge}}, Payload: model.Compared{WorstPa: 20_000}})
}

func TestAttackAnAltitudeOfTheOtherClaimant(t *testing.T) {
	for name, own := range map[string]func(*atk) *entry.Author{
		"at the clinic that has it": func(x *atk) *entry.Author { return x.br },
		"at the other":              func(x *atk) *entry.Author { return x.cr },
		"at the office":             func(x *atk) *entry.Author { return x.xr },
	} {
		t.Run(name+" a load of two clinics is as a rebuild has it", func(t *testing.T) {
			x := newAtk(t, true)
			x.asRebuilt(x.grow(own(x), func() {
				x.loadOn(x.d1, 1, model.ID{9})
				x.loadOn(x.cd, 1, model.ID{9})
				x.raised(x.d1, siteB)
				x.raised(x.cd, siteC)
			}))
		})
		t.Run(name+" a load told of by a removed device too is as a rebuild has it", func(t *testing.T) {
			x := newAtk(t, true)
			x.asRebuilt(x.grow(own(x), func() {
				x.loadOn(x.d1, 1, model.ID{9})
				x.loadOn(x.cd, 1, model.ID{9})
				s := x.cd.Stream
				x.act(x.ck, entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: s[:], Seq: 0, Reason: "lost"}})
				x.raised(x.od, siteC)
			}))
		})
	}
}

func TestAttackAGaugeFoundOut(t *testing.T) {
	for name, tell := range map[string]func(*atk){
		"a load told of with two gauges": func(x *atk) {
			x.loadOn(x.d1, 1, model.ID{9})
			x.compared(x.d1, model.ID{9})
			x.loadOn(x.d2, 1, model.ID{8})
			x.compared(x.d1, model.ID{8})
		},
		"a comparison before its load": func(x *atk) {
			x.compared(x.cd, model.ID{9})
			x.loadOn(x.d1, 1, model.ID{9})
		},
		"a comparison by a device that is certified later": func(x *atk) {
			a := newAuthor(160, x.br.District)
			x.loadOn(x.d1, 1, model.ID{9})
			x.compared(a, model.ID{9})
			x.act(x.bk, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteB, Key: a.Key(), Letter: "Q", Caps: acaps}})
		},
		"a load by a device that is certified later": func(x *atk) {
			a := newAuthor(160, x.br.District)
			x.compared(x.d1, model.ID{9})
			x.loadOn(a, 1, model.ID{9})
			x.compared(x.d1, model.ID{9})
			x.act(x.bk, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteB, Key: a.Key(), Letter: "Q", Caps: acaps}})
		},
		"a load covered until its device was copied": func(x *atk) {
			copied := *x.d1
			x.loadOn(x.d1, 1, model.ID{9})
			s := x.d1.Stream
			x.act(x.d2, entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: model.ID{9}}},
				Payload: model.Compared{WorstPa: 20_000, Since: []model.KnownUpTo{{Stream: s[:], Seq: 1000}}}})
			x.act(&copied, entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}})
		},
	} {
		t.Run(name+" is as a rebuild has it", func(t *testing.T) {
			x := newAtk(t, true)
			x.asRebuilt(x.grow(x.br, func() { tell(x) }))
		})
	}
}
