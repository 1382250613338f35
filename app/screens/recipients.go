package screens

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
)

// recipientsShown are the sites that are offered at once; of more, the one that is meant is found by its name.
const recipientsShown = 12

// recipients asks whom a stick is for: at a clinic that is nearly always the office, which stands first and is chosen.
type recipients struct {
	*Stage
	sites  []work.SiteKnown
	shown  []work.SiteKnown
	choice *widgets.Choice
	tiles  *fyne.Container
	object fyne.CanvasObject
}

func newRecipients(s *Stage, sites []work.SiteKnown) *recipients {
	office := slices.ContainsFunc(sites, func(x work.SiteKnown) bool { return x.Own && x.Office })
	r := &recipients{Stage: s, sites: slices.Clone(sites), tiles: widgets.NewColumn()}
	slices.SortStableFunc(r.sites, func(a, b work.SiteKnown) int { return r.rank(a, office) - r.rank(b, office) })
	r.fill("")
	if len(r.shown) > 0 && (len(r.sites) == 1 || (!office && r.shown[0].Office)) {
		r.choice.SetSelected(0)
	}
	r.object = r.tiles
	if len(sites) > recipientsShown {
		r.object = widgets.NewColumn(widgets.NewField(s.Say("office.find"), "", r.fill), r.tiles)
	}
	return r
}

// rank is where a site stands: the office before our other devices, and these before other clinics; at the office its other devices come last.
func (r *recipients) rank(x work.SiteKnown, office bool) int {
	switch {
	case x.Own && office:
		return 3
	case x.Office:
		return 0
	case x.Own:
		return 1
	}
	return 2
}

func (r *recipients) fill(text string) {
	text = strings.ToLower(strings.TrimSpace(text))
	r.shown = slices.DeleteFunc(slices.Clone(r.sites), func(x work.SiteKnown) bool { return !x.Has(text) })
	all := len(r.shown)
	r.shown = r.shown[:min(recipientsShown, all)]
	var names []string
	for _, x := range r.shown {
		name := x.Name
		if x.Own {
			name = r.Say("stick.own", x.Name)
		}
		if name == "" {
			name = x.ID.Short()
		}
		names = append(names, name)
	}
	r.choice = widgets.NewChoice(names, -1, nil)
	if len(names) == 1 && text != "" {
		r.choice.SetSelected(0)
	}
	r.tiles.Objects = []fyne.CanvasObject{r.choice}
	if len(r.sites) > recipientsShown {
		r.tiles.Objects = append(r.tiles.Objects, widgets.NewSoft(r.Say("stick.shown", strconv.Itoa(len(r.shown)), strconv.Itoa(all))))
	}
	r.tiles.Refresh()
}

// chosen is the site that the stick is for; ok is false where none was chosen.
func (r *recipients) chosen() (x work.SiteKnown, ok bool) {
	if i := r.choice.Selected; i >= 0 && i < len(r.shown) {
		return r.shown[i], true
	}
	return x, false
}
