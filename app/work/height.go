package work

import (
	"math"
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Height is the altitude of the site by one way.
type Height struct {
	model.HeightTold
	By      entry.Verified
	Present bool // what the marks rest on
	Settled bool // the present one was stated in knowledge of it
	Agrees  bool // with the present one, within what both may be off
}

// HeightForm is what was seen: a height (map, survey), the pressure here (barometer), or where water boils in the open pot.
type HeightForm struct {
	How      model.HeightHow
	HeightM  int64
	Pressure steam.Absolute
	Boiling  steam.Celsius
}

// What a thermometer in boiling water may be off (common practice, no source).
const boilingError steam.Celsius = 0.5

// told works out the height and how far it may be off.
func (f HeightForm) told() (h model.HeightTold, err error) {
	h.How = f.How
	spread := func(p steam.Absolute, off float64) {
		at := steam.HeightOf(p)
		h.HeightM = int64(math.Round(float64(at)))
		h.WithinM = int64(math.Ceil(float64(steam.HeightOf(p-steam.Absolute(off)) - at)))
	}
	switch f.How {
	case model.ByMap:
		h.HeightM, h.WithinM = f.HeightM, int64(steam.MapWithin)
	case model.BySurvey:
		h.HeightM, h.WithinM = f.HeightM, int64(steam.SurveyWithin)
	case model.ByBarometer:
		if f.Pressure < 50e3 || f.Pressure > 106e3 {
			return h, refuse("barometer")
		}
		h.PressurePa = int64(f.Pressure)
		spread(f.Pressure, float64(steam.BarometerLimit)+steam.TropicsWeather*float64(f.Pressure))
	case model.ByBoiling:
		p, _, err := steam.FromBoiling(f.Boiling)
		if err != nil {
			return h, wrap(err, "boiling")
		}
		cold, _, err := steam.FromBoiling(f.Boiling - boilingError)
		if err != nil {
			return h, wrap(err, "boiling")
		}
		h.BoilingMilli = model.MilliDown(float64(f.Boiling))
		spread(p, float64(p-cold)+steam.TropicsWeather*float64(p))
	default:
		return h, refuse("height-how")
	}
	if h.HeightM < -430 || h.HeightM > steam.HighestClinic {
		return h, refuse("altitude")
	}
	return h, nil
}

// TellHeight records the altitude by another way. Until somebody in charge settles which one holds, the mark is made for the higher.
func (d *Desk) TellHeight(f HeightForm) (model.HeightTold, error) {
	h, err := f.told()
	if err != nil {
		return h, err
	}
	if err := d.mayManage(); err != nil {
		return h, err
	}
	p, err := d.Place()
	if err != nil {
		return h, err
	}
	h.At = d.Clock.Now().Wall.UnixMilli()
	_, err = d.sign(entry.Draft{Kind: model.KindHeightTold, Targets: []model.Ref{{Noun: model.NounSite, ID: p.ID}}, Payload: h})
	return h, err
}

// Heights lists what is known of the site's altitude: what the marks rest on first, then every other way, the newest first.
func (d *Desk) Heights() (out []Height, err error) {
	p, err := d.Place()
	if err != nil {
		return nil, err
	}
	ref := model.Ref{Noun: model.NounSite, ID: p.ID}
	err = d.read(func(src register.Source) { out = heights(src, ref) })
	return out, err
}

func heights(src register.Source, ref model.Ref) (out []Height) {
	st := register.Of(src, ref)
	values := register.Values(st, model.KindSite)
	var present Height
	if len(values) > 0 {
		var s model.Site
		if values[0].Body().Decode(&s) == nil {
			present = Height{HeightTold: model.HeightTold{How: s.How, HeightM: s.HeightM, WithinM: s.WithinM, At: values[0].Body().Wall}, By: values[0], Present: true, Agrees: true}
			out = append(out, present)
		}
	}
	doubted := register.Doubted(src, st, model.KindSite) // by a copied or removed device: it may be right, and only what is higher counts
	for i, v := range append(values, doubted...) {       // said at once: the others stand beside the one shown first, as any other way
		var s model.Site
		if i > 0 && v.Body().Decode(&s) == nil {
			h := model.HeightTold{How: s.How, HeightM: s.HeightM, WithinM: s.WithinM, At: v.Body().Wall}
			out = append(out, Height{HeightTold: h, By: v, Agrees: h.HeightM == present.HeightM || (i >= len(values) && h.HeightM < present.HeightM)})
		}
	}
	for _, v := range slices.Backward(st.Entries) {
		var h model.HeightTold
		once := src.Roster().Once(v)
		if v.Body().Kind != model.KindHeightTold || !(once || src.Roster().Allows(v)) || !register.Speaks(src, v, ref) || v.Body().Decode(&h) != nil || (once && h.HeightM < present.HeightM) {
			continue
		}
		if h.HeightM == present.HeightM && h.How == present.How {
			continue // it is the one that stands first
		}
		x := Height{HeightTold: h, By: v, Agrees: apart(h, present.HeightTold) <= h.WithinM+present.WithinM}
		x.Settled = len(values) > 0 && slices.Contains(values[0].Body().Relies, v.ID())
		out = append(out, x)
	}
	return out
}

func apart(a, b model.HeightTold) int64 { return max(a.HeightM-b.HeightM, b.HeightM-a.HeightM) }

// mostApart is how far two ways may differ before there is no mark at all: one of them is a slip, such as feet typed as metres.
const mostApart = 500

// unsettled takes the highest of the ways that do not agree and were not settled for the site's altitude: the mark is then safe for each of
// them. One that is lower lowers nothing.
func (d *Desk) unsettled(s model.Site) (model.Site, error) {
	all, err := d.Heights()
	if err != nil {
		return s, err
	}
	stated := s.HeightM
	for _, h := range all {
		if h.Present || h.Settled || h.Agrees {
			continue
		}
		if apart(h.HeightTold, model.HeightTold{HeightM: stated}) > mostApart {
			return s, refuse("heights-apart", short(float64(stated)), short(float64(h.HeightM)))
		}
		if h.HeightM > s.HeightM {
			s.HeightM, s.WithinM = h.HeightM, max(s.WithinM, h.WithinM)
		}
	}
	own, err := d.SiteID()
	if err != nil {
		return s, err
	}
	err = d.read(func(src register.Source) {
		values := register.Values(register.Of(src, model.Ref{Noun: model.NounSite, ID: own}), model.KindSite)
		for _, v := range values { // of several that were said at once the highest that may be
			var x model.Site
			if len(values) > 1 && v.Body().Decode(&x) == nil {
				s.WithinM = max(s.WithinM, x.HeightM+x.WithinM-s.HeightM)
			}
		}
	})
	return s, err
}

// SettleHeight states which altitude the marks rest on from now on, in knowledge of all that were told.
func (d *Desk) SettleHeight(h Height) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	p, err := d.Place()
	if err != nil {
		return err
	}
	all, err := d.Heights()
	if err != nil {
		return err
	}
	s := p.Site
	s.HeightM, s.How, s.WithinM, s.BoilingMilli = h.HeightM, h.How, h.WithinM, h.BoilingMilli
	stood, err := d.stood(p)
	if err != nil {
		return err
	}
	if s.RaisedPa, err = raised(stood, s); err != nil {
		return err
	}
	present := all[0]
	told := slices.ContainsFunc(all[1:], func(x Height) bool { return x.HeightM == present.HeightM && x.How == present.How })
	vs, err := d.Store.ByKind(model.KindHeightTold)
	if err != nil {
		return d.unread(err)
	}
	for _, v := range vs { // also those that stand behind the one shown first
		var x model.HeightTold
		told = told || (v.Body().Decode(&x) == nil && x.HeightM == present.HeightM && x.How == present.How)
	}
	if !told && (h.HeightM != present.HeightM || h.How != present.How) { // what the marks rested on until now stays among the ways
		was := present.HeightTold
		was.At = d.Clock.Now().Wall.UnixMilli()
		kept, err := d.sign(entry.Draft{Kind: model.KindHeightTold, Targets: []model.Ref{{Noun: model.NounSite, ID: p.ID}}, Payload: was})
		if err != nil {
			return err
		}
		all = append(all, Height{By: kept[0]})
	}
	dr := entry.Draft{Kind: model.KindSite, Targets: siteRefs(p.ID, s), Payload: s}
	for _, x := range all {
		if !x.Present {
			dr.Relies = append(dr.Relies, x.By.ID())
		}
	}
	for _, v := range vs {
		if !slices.Contains(dr.Relies, v.ID()) {
			dr.Relies = append(dr.Relies, v.ID())
		}
	}
	if err := d.read(func(src register.Source) { dr.Replaces = d.values(src, dr.Targets[0], model.KindSite) }); err != nil {
		return err
	}
	_, err = d.sign(dr)
	return err
}

// siteRefs are what a statement of a site is about: where it raises the need, also the loads that were planned for less.
func siteRefs(id model.ID, s model.Site) []model.Ref {
	out := []model.Ref{{Noun: model.NounSite, ID: id}}
	if s.RaisedPa > 0 {
		out = append(out, model.Ref{Noun: model.NounHeight, ID: id})
	}
	return out
}

// values are the values of a noun that stand now, to be replaced.
func (d *Desk) values(src register.Source, ref model.Ref, kind model.Kind) (out []entry.ID) {
	st := register.Of(src, ref)
	for _, v := range append(register.Values(st, kind), register.Doubted(src, st, kind)...) {
		out = append(out, v.ID())
	}
	return out
}

// todayHeights says that two ways of knowing the altitude do not agree.
func (d *Desk) todayHeights(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	all, err := d.Heights()
	if err != nil {
		return err
	}
	for _, h := range all {
		if !h.Present && !h.Settled && !h.Agrees {
			add(Stop, "heights", "height", model.ID{}, short(float64(p.Site.HeightM)), short(float64(h.HeightM)), short(float64(h.WithinM)), string(h.How))
		}
	}
	return nil
}

// ToldOn is when a height was told, by what is known of the date.
func (d *Desk) ToldOn(h Height) (time.Time, bool) {
	at, known, err := d.Corrected(h.By)
	return at, known && err == nil
}
