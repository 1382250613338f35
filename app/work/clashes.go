package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

// What was told twice and not alike, over all clinics that are known here: values stated at once, and numbers that two things have. Nothing of it is settled by a rule: a person does that
// where the thing is, and until then a site works with its own.

// Clash is one of them.
type Clash struct {
	Code string   // of the catalogue: "clash." + Code
	Args []string // what it is called, or its number
	Site string   // whose it is; "" where nobody knows
	Own  bool     // it can be settled here
	Go   string   // where
	ID   model.ID
	By   []string // of numbers: the clinics of the things that have it

	Values []ClashValue // of what is described in several ways: each of them
}

// ClashValue is one way in which something is described.
type ClashValue struct {
	By   string       // clinic and device
	Says []ClashField // what is not alike
	ID   entry.ID
}

// clashing are the kinds of which several values may stand, with where they are settled.
var clashing = []struct {
	kind model.Kind
	code string
	to   string
}{{model.KindSite, "site", "correct"}, {model.KindSterilizer, "pot", "correct"}, {model.KindGauge, "gauge", "correct"}, {model.KindSetList, "set", "set"}, {model.KindReference, "reference", "references"}}

// mostDoubles bounds the numbers that are listed.
const mostDoubles = 60

// Clashes lists them.
func (d *Desk) Clashes() (out []Clash, err error) {
	names, err := d.SiteNames()
	if err != nil {
		return nil, err
	}
	own, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	for _, k := range clashing {
		vs, err := d.Store.ByKind(k.kind)
		if err != nil {
			return nil, d.unread(err)
		}
		err = d.read(func(src register.Source) {
			seen := map[model.Ref]bool{}
			for _, v := range vs {
				for _, ref := range v.Body().Refs() {
					if seen[ref] || ref.Noun == model.NounHeight {
						continue
					}
					seen[ref] = true
					st := register.Of(src, ref)
					values := register.Values(st, k.kind)
					if !register.Differ(values) { // said twice alike
						continue
					}
					site, _ := register.House(src, ref)
					c := Clash{Code: k.code, Args: []string{named(st, k.kind), strconv.Itoa(len(values))}, Site: names[site], Own: site == own, Go: k.to, ID: ref.ID}
					for _, w := range values {
						if dev, ok := src.Roster().By(w); ok {
							c.Values = append(c.Values, ClashValue{names[dev.Site] + " " + dev.Letter, fieldsOf(w), w.ID()})
						}
					}
					onlyWhatDiffers(c.Values)
					out = append(out, c)
				}
			}
		})
		if err != nil {
			return nil, err
		}
	}
	doubles, err := d.Store.Doubles(mostDoubles)
	if err != nil {
		return nil, d.unread(err)
	}
	return append(out, d.doubled(doubles, names, own)...), nil
}

// named is what a noun is called by the value shown first.
func named(st register.State, kind model.Kind) string {
	switch kind {
	case model.KindSite:
		x, _, _ := register.Described[model.Site](st, kind)
		return x.Name
	case model.KindSterilizer:
		x, _, _ := register.Described[model.Sterilizer](st, kind)
		return x.Name
	case model.KindGauge:
		x, _, _ := register.Described[model.GaugeLooks](st, kind)
		return x.Serial
	case model.KindSetList:
		x, _, _ := register.Described[model.SetList](st, kind)
		return x.Name
	}
	x, _, _ := register.Described[model.Reference](st, kind)
	return x.Name
}

// ClashField is one thing that a description says; Code is for the catalogue ("clash.says." + Code).
type ClashField struct{ Code, Value string }

// fieldsOf are what a description says.
func fieldsOf(w entry.Verified) (out []ClashField) {
	add := func(code, value string) { out = append(out, ClashField{code, value}) }
	pa := func(v int64) string { return strconv.FormatInt(v/1000, 10) + " kPa" }
	milli := func(v int64) string { return strconv.FormatFloat(float64(v)/1000, 'f', -1, 64) }
	var site model.Site
	var pot model.Sterilizer
	var gauge model.GaugeLooks
	var set model.SetList
	var ref model.Reference
	switch b := w.Body(); {
	case b.Kind == model.KindSite && b.Decode(&site) == nil:
		add("name", site.Name)
		add("height", strconv.FormatInt(site.HeightM, 10)+" ± "+strconv.FormatInt(site.WithinM, 10)+" m")
	case b.Kind == model.KindSterilizer && b.Decode(&pot) == nil:
		add("name", pot.Name)
		add("limit", pa(pot.LimitPa))
		add("valve", pa(pot.ValvePa))
		add("water", milli(pot.LeastWaterML)+" L")
	case b.Kind == model.KindGauge && b.Decode(&gauge) == nil:
		add("serial", gauge.Serial)
		add("span", milli(gauge.SpanMilli)+" "+gauge.Unit)
		add("line", milli(gauge.LineMilli)+" "+gauge.Unit)
		if gauge.ClassMilli >= 0 {
			add("class", milli(gauge.ClassMilli))
		} else {
			add("class", "?")
		}
	case b.Kind == model.KindSetList && b.Decode(&set) == nil:
		var pieces []string
		for _, p := range set.Pieces {
			pieces = append(pieces, strconv.FormatInt(p.Count, 10)+" "+p.Name)
		}
		add("name", set.Name)
		add("pieces", strings.Join(pieces, ", "))
	case b.Kind == model.KindReference && b.Decode(&ref) == nil:
		add("name", ref.Name)
		add("error", milli(ref.ErrorMilli)+" "+ref.Unit)
		add("certificate", ref.Certificate)
	}
	return out
}

// onlyWhatDiffers leaves out what all the ways say alike.
func onlyWhatDiffers(vs []ClashValue) {
	alike := func(f ClashField) bool {
		return !slices.ContainsFunc(vs, func(v ClashValue) bool { return !slices.Contains(v.Says, f) })
	}
	var same []ClashField
	for _, v := range vs {
		for _, f := range v.Says {
			if alike(f) {
				same = append(same, f)
			}
		}
	}
	for i := range vs {
		if left := slices.DeleteFunc(slices.Clone(vs[i].Says), func(f ClashField) bool { return slices.Contains(same, f) }); len(left) > 0 {
			vs[i].Says = left
		}
	}
}

// doubled are numbers that several packs, or several cycles of one pot, have.
func (d *Desk) doubled(all []store.Double, names map[model.ID]string, own model.ID) (out []Clash) {
	for _, x := range all {
		if len(x.Of) == 0 {
			continue
		}
		code, to := "pack-number", "pack"
		if x.Of[0].Noun == model.NounCycle {
			code, to = "cycle-number", "cycle"
		}
		c := Clash{Code: code, Args: []string{x.Number, strconv.Itoa(len(x.Of))}, Go: to, ID: x.Of[0].ID, Own: true}
		err := d.read(func(src register.Source) {
			var sites []string
			for _, ref := range x.Of {
				if site, ok := register.House(src, ref); ok && !slices.Contains(sites, names[site]) {
					sites = append(sites, names[site])
				}
			}
			if len(sites) > 0 {
				c.Site = sites[0]
			}
			c.By = sites
		})
		if err == nil {
			out = append(out, c)
		}
	}
	return out
}

// SiteNames are the names of the sites that are known here.
func (d *Desk) SiteNames() (map[model.ID]string, error) {
	sites, err := d.Sites()
	out := map[model.ID]string{}
	for _, s := range sites {
		out[s.ID] = s.Name
	}
	return out, err
}
