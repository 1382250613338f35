package work

import (
	"errors"
	"io/fs"
	"slices"
	"strings"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"

	"crypto/ed25519"
)

// Answers are those to the six questions of the first start.
type Answers struct {
	Language string
	Site     model.Site
	Pot      model.Sterilizer
	Gauge    model.GaugeLooks
	Person   model.Person
	Office   bool // this is the district's office: it has no pot, and clinics join it
}

// Check says what of the answers cannot be.
func (a Answers) Check() error {
	switch {
	case strings.TrimSpace(a.Site.Name) == "":
		return refuse("site-name")
	case strings.TrimSpace(a.Person.Name) == "":
		return refuse("person-name")
	case a.Office:
		return nil
	case a.Site.HeightM < -430 || a.Site.HeightM > steam.HighestClinic:
		return refuse("altitude")
	}
	return a.checkPot()
}

// checkGauge refuses a dial that cannot be.
func checkGauge(g model.GaugeLooks) error {
	u := steam.Unit(g.Unit)
	if !u.Known() {
		return refuse("unit")
	}
	span := u.Over(float64(g.SpanMilli) / 1000)
	switch {
	case span < 50e3 || span > 1.6e6:
		return refuse("span")
	case g.LineMilli <= 0 || g.LineMilli*4 > g.SpanMilli:
		return refuse("line")
	}
	return nil
}

func (a Answers) checkPot() error {
	if err := checkGauge(a.Gauge); err != nil {
		return err
	}
	switch {
	case a.Pot.LimitPa < 0 || a.Pot.ValvePa < 0 || a.Pot.LimitPa > 6e5 || a.Pot.ValvePa > 6e5:
		return refuse("limit")
	case a.Pot.LimitPa == 0 && a.Pot.ValvePa == 0:
		return refuse("limit")
	case a.Pot.LeastWaterML < 500 || a.Pot.LeastWaterML > 20000:
		return refuse("least-water")
	}
	return nil
}

// SetUp makes the register of a clinic that is its own district: root, site and
// device keys, and the first entries. A lone clinic can join a district later.
func (d *Desk) SetUp(a Answers) error {
	if err := a.Check(); err != nil {
		return err
	}
	if !d.NeedsSetup() {
		return refuse("already-set-up")
	}
	if d.author != nil { // cut short after the keys: only the description is missing
		p, err := d.Place()
		if err != nil {
			return err
		}
		return d.describe(p.ID, a)
	}
	rootKey, err := d.keyOnce(home.RootKey)
	if err != nil {
		return err
	}
	siteKey, err := d.keyOnce(home.SiteKey)
	if err != nil {
		return err
	}
	root := entry.NewAuthor(rootKey, entry.DistrictOf(rootKey.Public().(ed25519.PublicKey)))
	site := d.NewID()
	if err := d.Store.SetDistrict(root.District); err != nil {
		return wrap(err, "not-saved")
	}
	now := d.Clock.Now()
	founding, err := root.Sign(entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: a.Site.Name, Practice: d.Practice}}, now, d.state)
	if err != nil {
		return err
	}
	root.Advance(founding)
	granted, err := root.Sign(entry.Draft{Kind: model.KindSiteGrant, Targets: []model.Ref{{Noun: model.NounSite, ID: site}},
		Payload: model.SiteGrant{Site: site, Key: siteKey.Public().(ed25519.PublicKey), Office: a.Office}}, now, d.state)
	if err != nil {
		return err
	}
	if err := d.Store.Append(founding, granted); err != nil {
		return wrap(err, "not-saved")
	}
	if err := d.certify(siteKey, site); err != nil {
		return err
	}
	return d.describe(site, a)
}

// keyOnce makes a key, or takes the one that a set-up cut short has left.
func (d *Desk) keyOnce(name string) (ed25519.PrivateKey, error) {
	k, err := home.LoadKey(d.fs, d.Dir, name)
	if errors.Is(err, fs.ErrNotExist) {
		return home.MakeKey(d.fs, d.rnd, d.Dir, name)
	}
	return k, err
}

func (d *Desk) describe(site model.ID, a Answers) error {
	person, pot, gauge := d.NewID(), d.NewID(), d.NewID()
	a.Site.Language = a.Language
	a.Person.Language = a.Language
	a.Person.Roles = []model.Role{model.RoleInCharge}
	if a.Office {
		a.Person.Roles = []model.Role{model.RoleOfficer}
	}
	a.Pot.Site, a.Pot.Gauge = site, gauge
	drafts := []entry.Draft{
		{Kind: model.KindPerson, Person: person, Payload: a.Person, Targets: []model.Ref{{Noun: model.NounPerson, ID: person}}},
		{Kind: model.KindSite, Person: person, Payload: a.Site, Targets: []model.Ref{{Noun: model.NounSite, ID: site}}},
	}
	if !a.Office {
		drafts = append(drafts,
			entry.Draft{Kind: model.KindGauge, Person: person, Payload: a.Gauge, Targets: []model.Ref{{Noun: model.NounGauge, ID: gauge}}},
			entry.Draft{Kind: model.KindSterilizer, Person: person, Payload: a.Pot, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot}}})
	}
	_, err := d.sign(drafts...)
	if err == nil {
		d.Act(person)
	}
	return err
}

// Place is the site with its pots, as the window needs them.
type Place struct {
	ID   model.ID
	Site model.Site
	Pots []Pot
}

// Pot is a sterilizer with its gauge.
type Pot struct {
	ID    model.ID
	Looks model.Sterilizer
	Gauge model.GaugeLooks
	Known bool // somebody who may has described it
	Two   bool // it or its gauge was described differently at once: the worst of each counts until somebody settles it
	Out   bool // out of service

	Also         []model.ID // other gauges that may be on it as well: somebody is to say which one is
	TwoDials     bool       // its dial was described with two units or two spans at once: there is no mark
	PlateValvePa int64      // safety valve by its plate, whatever was found since
	Why          []string   // codes of the holds on it
}

// Place reads our site and its pots.
func (d *Desk) Place() (p Place, err error) {
	site, err := d.SiteID()
	if err != nil || site.IsZero() {
		return p, err
	}
	return d.PlaceOf(site)
}

// MayLight says that nothing that is known of a pot itself forbids a fire.
func (p Pot) MayLight() bool { return !p.Out && len(p.Also) == 0 && !p.TwoDials }

// PlaceOf reads a site and its pots.
func (d *Desk) PlaceOf(site model.ID) (p Place, err error) {
	own, heard, err := d.houseFor(site)
	if err != nil {
		return p, err
	}
	pots, err := d.Store.ByKind(model.KindSterilizer, append(own, heard...)...)
	if err != nil {
		return p, d.unread(err)
	}
	p.ID = site
	err = d.read(func(src register.Source) {
		p.Site, _, _ = register.Described[model.Site](register.Of(src, model.Ref{Noun: model.NounSite, ID: p.ID}), model.KindSite)
		seen := map[model.ID]bool{}
		for _, v := range pots {
			for _, ref := range v.Body().Refs() {
				if ref.Noun == model.NounSterilizer && !seen[ref.ID] {
					seen[ref.ID] = true
					if house, ok := register.House(src, ref); ok && house != site {
						continue
					}
					if pot := potOf(src, ref.ID); pot.Known {
						p.Pots = append(p.Pots, pot)
					}
				}
			}
		}
	})
	return p, err
}

func potOf(src register.Source, id model.ID) Pot {
	st := register.Of(src, model.Ref{Noun: model.NounSterilizer, ID: id})
	p := Pot{ID: id}
	var two bool
	p.Looks, two, p.Known = register.Described[model.Sterilizer](st, model.KindSterilizer)
	p.readGauge(src)
	p.Two = p.Two || two
	p.worst(append(register.Values(st, model.KindSterilizer), register.Doubted(src, st, model.KindSterilizer)...))
	p.Looks.Screwed, p.Looks.Knew, p.Looks.Since = false, nil, 0
	p.PlateValvePa = p.Looks.ValvePa
	for _, h := range st.Holds {
		p.Out = p.Out || h.Open()
		if h.Open() {
			p.Why = append(p.Why, h.Code)
		}
	}
	for _, v := range st.Entries { // the setting found at the last lift counts, not the plate's
		var x model.ValveTest
		if v.Body().Kind == model.KindValveTest && v.Body().Decode(&x) == nil && x.Lifted && x.FoundPa > 0 && src.Roster().Can(v, model.CapManage) && register.Speaks(src, v, st.Ref) && x.FoundPa <= p.highest() {
			p.Looks.ValvePa = x.FoundPa
		}
	}
	return p
}

// readGauge reads its dial, and takes the worst of what was said of that at once.
func (p *Pot) readGauge(src register.Source) {
	gauge := register.Of(src, model.Ref{Noun: model.NounGauge, ID: p.Looks.Gauge})
	p.Gauge, p.Two, _ = register.Described[model.GaugeLooks](gauge, model.KindGauge)
	p.worstDial(append(register.Values(gauge, model.KindGauge), register.Doubted(src, gauge, model.KindGauge)...))
}

// Pot finds a pot of the site.
func (p Place) Pot(id model.ID) (Pot, bool) {
	for _, x := range p.Pots {
		if x.ID == id {
			return x, true
		}
	}
	return Pot{}, false
}

// worst takes the worst of what was said at once of a pot: the lower limits, more water. Of two gauges none is the worse: a mark by the wrong one is no mark.
func (p *Pot) worst(pots []entry.Verified) {
	least := func(a, b int64) int64 {
		if a == 0 || b == 0 {
			return max(a, b)
		}
		return min(a, b)
	}
	for _, v := range pots {
		var x model.Sterilizer
		if v.Body().Decode(&x) == nil {
			if x.Gauge != p.Looks.Gauge && !slices.Contains(p.Also, x.Gauge) {
				p.Also = append(p.Also, x.Gauge)
			}
			p.Looks.LimitPa, p.Looks.ValvePa, p.Looks.LeastWaterML = least(p.Looks.LimitPa, x.LimitPa), least(p.Looks.ValvePa, x.ValvePa), max(p.Looks.LeastWaterML, x.LeastWaterML)
		}
	}
}

// worstDial takes the worst of what was said at once of its dial: the coarser lines, the worse class.
func (p *Pot) worstDial(gauges []entry.Verified) {
	for _, v := range gauges {
		var x model.GaugeLooks
		if v.Body().Decode(&x) != nil {
			continue
		}
		if x.Unit != p.Gauge.Unit || x.SpanMilli != p.Gauge.SpanMilli {
			p.TwoDials = true
			continue
		}
		p.Gauge.LineMilli = max(p.Gauge.LineMilli, x.LineMilli)
		if x.ClassMilli < 0 || p.Gauge.ClassMilli < 0 {
			p.Gauge.ClassMilli = -1
		} else {
			p.Gauge.ClassMilli = max(p.Gauge.ClassMilli, x.ClassMilli)
		}
	}
}

// highest is the most at which a valve may lift: the pot's own maximum, or where that is not known its plate and a tenth (common practice, no source).
func (p Pot) highest() int64 {
	if p.Looks.LimitPa > 0 {
		return p.Looks.LimitPa
	}
	return p.PlateValvePa * 11 / 10
}
