package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// PackForm is what is told when a set is packed.
type PackForm struct {
	Set             string
	Present, Listed int64
	Counted         bool   // a missing piece was counted at the end of the procedure
	Without         string // pieces left out or put in their place
	Wrap            model.Wrap
	Washes          int64 // of a cloth wrap
	Again           bool  // a single-use wrap used a second time
	Tape, Strip     bool
	Lots            string
	List            model.ID      // set list that it was counted against; zero: none
	Short           []model.Short // what of it is not there
	MassG           int64         // weighed; 0: not
	SidesMM         []int64       // its three sides; none: not measured
}

// Check says what of the form cannot be.
func (f PackForm) Check() error {
	switch {
	case strings.TrimSpace(f.Set) == "":
		return refuse("set-missing")
	case f.Listed < 1 || f.Present < 1 || f.Present > f.Listed:
		return refuse("pieces")
	case f.Present < f.Listed && !f.Counted: // the first question, before anything else: it may be in the patient
		return refuse("piece-missing", strings.TrimSpace(f.Set), strconv.FormatInt(f.Present, 10), strconv.FormatInt(f.Listed, 10))
	case f.Present < f.Listed && strings.TrimSpace(f.Without) == "":
		return refuse("without-what")
	case f.Wrap != model.WrapCloth && f.Wrap != model.WrapPaper && f.Wrap != model.WrapPouch:
		return refuse("wrap")
	case f.Washes < 0 || f.Washes > 10000:
		return refuse("number")
	case f.MassG < 0 || f.MassG > 30_000:
		return refuse("pack-mass")
	case len(f.SidesMM) != 0 && (len(f.SidesMM) != 3 || slices.Min(f.SidesMM) < 5 || slices.Max(f.SidesMM) > 2000):
		return refuse("pack-sides")
	case !f.Tape && !f.Strip:
		return refuse("no-indicator", strings.TrimSpace(f.Set))
	}
	return nil
}

// Warnings are codes of what should not be and is recorded all the same: the catalogue has a sentence for each.
func (d *Desk) Warnings(f PackForm) (out []string, err error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	if f.Wrap == model.WrapCloth && rules.On(model.PolicyWashes) && f.Washes >= rules.Value(model.PolicyWashes) {
		out = append(out, "cloth-worn")
	}
	if f.Wrap != model.WrapCloth && f.Again {
		out = append(out, "single-use-again")
	}
	return append(out, tooBig(rules, f.MassG, f.SidesMM)...), nil
}

// tooBig says which limits a pack is over: steam does not reach the middle of one that is too heavy, too long or too tightly filled, and it
// does not dry. What was not measured is not judged.
func tooBig(rules model.Policies, massG int64, sides []int64) (out []string) {
	if rules.On(model.PolicyPackMass) && massG > rules.Value(model.PolicyPackMass) {
		out = append(out, model.PolicyPackMass)
	}
	if len(sides) != 3 {
		return out
	}
	if rules.On(model.PolicyPackLength) && slices.Max(sides) > rules.Value(model.PolicyPackLength) {
		out = append(out, model.PolicyPackLength)
	}
	litres := float64(sides[0]) * float64(sides[1]) * float64(sides[2]) / 1e6
	if rules.On(model.PolicyPackDensity) && float64(massG)/litres > float64(rules.Value(model.PolicyPackDensity)) {
		out = append(out, model.PolicyPackDensity)
	}
	return out
}

// LoadWarnings are what should not go into the pot as it is: the pack's number and the code of what is wrong with it.
func (d *Desk) LoadWarnings(packs []model.LoadPack) (out [][2]string, err error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	for _, x := range packs {
		if x.ID.IsZero() {
			continue // nothing is known of it
		}
		p, err := d.Pack(x.ID)
		if err != nil {
			return nil, err
		}
		if p.Made == nil {
			continue
		}
		for _, code := range tooBig(rules, p.Made.MassG, p.Made.SidesMM) {
			out = append(out, [2]string{x.Label, code})
		}
	}
	return out, nil
}

// MakePack records a set packed, and gives its number for the label.
func (d *Desk) MakePack(f PackForm) (model.ID, Number, error) {
	if err := f.Check(); err != nil {
		return model.ID{}, Number{}, err
	}
	if err := d.counted(f); err != nil {
		return model.ID{}, Number{}, err
	}
	d.numbering.Lock() // the next number is taken when it is signed
	defer d.numbering.Unlock()
	n, err := d.NextNumber()
	if err != nil {
		return model.ID{}, n, err
	}
	id := d.NewID()
	m := model.PackMade{Label: n.Text, Prefix: n.Prefix, Counter: n.Counter, Set: strings.TrimSpace(f.Set), Present: f.Present, Listed: f.Listed,
		Counted: f.Counted, Without: strings.TrimSpace(f.Without), Wrap: f.Wrap, Washes: f.Washes, Again: f.Again && f.Wrap != model.WrapCloth,
		Tape: f.Tape, Strip: f.Strip, Lots: strings.TrimSpace(f.Lots), List: f.List, Short: f.Short, MassG: f.MassG, SidesMM: f.SidesMM, At: d.Clock.Now().Wall.UnixMilli()}
	drafts := []entry.Draft{{Kind: model.KindPackMade, Payload: m, Targets: []model.Ref{packRef(id)}}}
	if !f.Tape {
		drafts = append(drafts, entry.Draft{Kind: model.KindStockOut, Payload: model.StockOut{What: string(model.StockTape)}})
	}
	_, err = d.sign(drafts...)
	return id, n, err
}

func packRef(id model.ID) model.Ref { return model.Ref{Noun: model.NounPack, ID: id} }

// LoadOf turns packs that were made here into what a load lists. A pack goes into one load only: rejected or given up, it
// gets a new wrap and a new number.
func (d *Desk) LoadOf(labels []string) (out []model.LoadPack, err error) {
	for _, text := range labels {
		text = strings.TrimSpace(text)
		bare, _, _ := strings.Cut(text, scanMark)
		ids, err := d.ByNumber(text)
		if err != nil {
			return nil, err
		}
		if good, ours := GoodNumber(bare); ours && !good {
			return nil, refuse("number-check", text)
		}
		if len(ids) == 0 {
			if err := d.halfNumber(text); err != nil {
				return nil, err
			}
		}
		x, made := model.LoadPack{Label: bare, Tape: true}, 0
		for _, id := range ids {
			p, err := d.Pack(id)
			if err != nil {
				return nil, err
			}
			if p.State.Is(ShelfMade) {
				m := p.Made
				if made++; made > 1 {
					return nil, refuse("number-two", text)
				}
				x = model.LoadPack{ID: id, Label: m.Label, Set: m.Set, Tape: m.Tape, Strip: m.Strip, Present: m.Present, Listed: m.Listed, Counted: m.Counted}
			} else if p.Made != nil {
				return nil, refuse("pack-loaded-before", p.Label)
			}
		}
		out = append(out, x)
	}
	return out, nil
}

// halfNumber refuses a part of the number of a pack that waits for its load: taken as a number of its own it would be another pack.
func (d *Desk) halfNumber(text string) error {
	ps, err := d.FindPacks(text, 20)
	if err != nil {
		return err
	}
	for _, p := range ps {
		if p.State.Is(ShelfMade) {
			return refuse("number-half", text, p.Label)
		}
	}
	return nil
}

// MovePack records where a pack went. Only what may be used goes out; it comes back unopened, or it does not come back.
func (d *Desk) MovePack(id model.ID, m model.PackMoved) error {
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	if p.Ended() {
		return refuse("pack-ended", p.Label)
	}
	switch m.What {
	case model.MoveIssued, model.MoveLent, model.MoveSent:
		if p.Out() {
			return refuse("pack-out-already", p.Label)
		}
		if !p.State.Good() {
			return refuse("pack-not-usable", p.Label)
		}
		if strings.TrimSpace(m.To) == "" { // it must be found again
			return refuse("to-whom")
		}
	case model.MoveBack:
		if !p.Out() {
			return refuse("pack-not-out", p.Label)
		}
		if !d.MayComeBack(p) {
			return refuse("pack-back-elsewhere", p.Label)
		}
	case model.MoveStored:
		if p.State.Is(ShelfMade) || p.Unwrapped() {
			return refuse("pack-not-shelf", p.Label)
		}
	default:
		return refuse("move")
	}
	m.To, m.At = strings.TrimSpace(m.To), d.Clock.Now().Wall.UnixMilli()
	if m.Site, err = d.movedTo(m); err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindPackMoved, Payload: m, Targets: []model.Ref{packRef(id)}})
	return err
}

// SpoilPack ends a pack at once, whatever its date says.
func (d *Desk) SpoilPack(id model.ID, why model.Spoilt) error {
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	if p.Over() {
		return refuse("pack-ended", p.Label)
	}
	_, err = d.sign(entry.Draft{Kind: model.KindPackSpoilt, Targets: []model.Ref{packRef(id)},
		Payload: model.PackSpoilt{Why: why, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// Printed records a print of a pack's label and gives the number of the copy: 1 is the first.
func (d *Desk) Printed(id model.ID) (copy int64, err error) {
	p, err := d.Pack(id)
	if err != nil {
		return 0, err
	}
	copy = p.Prints + 1
	_, err = d.sign(entry.Draft{Kind: model.KindLabel, Payload: model.LabelPrinted{Copy: copy}, Targets: []model.Ref{packRef(id)}})
	return copy, err
}

// MayComeBack says whether a pack went out from here, or is one of ours: who does not hold a pack cannot say that it came back.
func (d *Desk) MayComeBack(p PackView) bool {
	own, err := d.SiteID()
	return err == nil && (own == p.At || own == p.House)
}

// movedTo is the clinic of the district that a pack goes to by its name, or comes back to.
func (d *Desk) movedTo(m model.PackMoved) (site model.ID, err error) {
	switch m.What {
	case model.MoveBack:
		return d.SiteID()
	case model.MoveSent, model.MoveLent:
		sites, err := d.SitesNamed(m.To)
		sites = slices.DeleteFunc(sites, func(s SiteKnown) bool { return s.Own })
		switch {
		case err != nil:
			return site, err
		case len(sites) > 1:
			return site, severalSites(m.To, sites)
		case len(sites) == 1:
			return sites[0].ID, nil
		}
	}
	return site, nil
}
