package screens

import (
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// Devices lists the district's sites with their devices, and takes one out that was lost.
func Devices(s *Stage) fyne.CanvasObject {
	sites, err := s.Desk.Sites()
	if err != nil {
		return Page(s.Say("devices.title"), "", widgets.NewPara(s.Fault(err)))
	}
	all, err := s.Desk.Devices()
	if err != nil {
		return Page(s.Say("devices.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("devices.what"))}
	for _, site := range sites {
		body = append(body, widgets.NewStrong(join(site.Name, site.Code)))
		if site.Unproven && !site.Own {
			body = append(body, widgets.NewRow(widgets.Triangle, widgets.Amber, s.Say("devices.unproven"), site.Name, s.Say("devices.compare"), func() { s.compareLater(site) }))
		}
		for _, d := range all {
			if d.Site == site.ID {
				body = append(body, s.deviceRow(d))
			}
		}
	}
	return Page(s.Say("devices.title"), "", append(body, widgets.NewButton(s.Say("do.back"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) }))...)
}

// compareLater shows the words of a clinic that was taken in before anybody could compare them.
func (s *Stage) compareLater(site work.SiteKnown) {
	words, err := s.Desk.WordsOf(site.ID)
	if !s.Tell(err) {
		return
	}
	if office, err := s.Desk.Office(); err != nil || !office || words == "" {
		s.Message(s.Say("refuse.office-only"))
		return
	}
	s.Show(s.compareWords(site.Name, words, widgets.NewPara(s.Say("devices.compare.how")), func() error { return s.Desk.Prove(site.ID) }, nil))
}

func (s *Stage) deviceRow(d work.DeviceKnown) fyne.CanvasObject {
	seen := s.Say("devices.nothing")
	if d.Seq > 0 {
		seen = s.Say("devices.last", s.Words.Day(day(d.Last)), count(int64(d.Seq)))
	}
	own, err := s.Desk.SiteID()
	office, err2 := s.Desk.Office()
	if err == nil && err2 == nil && !office && d.Site != own && !d.Removed { // another site's devices are the office's to take out
		return widgets.NewRow(widgets.Square, widgets.InkSoft, s.Say("devices.in"), join(d.Letter, seen), "", func() {})
	}
	switch {
	case d.Own:
		return widgets.NewRow(widgets.Disc, widgets.Blue, s.Say("devices.this"), join(d.Letter, seen), "", func() {})
	case d.Removed:
		return widgets.NewRow(widgets.Octagon, widgets.InkSoft, s.Say("devices.removed"), join(d.Letter, seen), "", func() {})
	case d.Forked:
		return widgets.NewRow(widgets.Triangle, widgets.Amber, s.Say("devices.copied"), join(d.Letter, seen), s.Say("devices.lost"), func() { s.WithPerson(func() { s.removeDevice(d) }) })
	}
	return widgets.NewRow(widgets.Square, widgets.InkSoft, s.Say("devices.in"), join(d.Letter, seen), s.Say("devices.lost"), func() { s.WithPerson(func() { s.removeDevice(d) }) })
}

// removeDevice asks why and since when.
func (s *Stage) removeDevice(d work.DeviceKnown) {
	var shut func()
	why := widgets.NewField(s.Say("devices.why"), "", nil)
	ago := widgets.NewField(s.Say("devices.ago"), "", nil)
	widgets.Chain(why, ago)
	save := widgets.NewButton(s.Say("devices.lost"), widgets.Harm, func() {
		var since time.Time
		if ago.Text() != "" {
			n, err := steam.Number(ago.Text())
			if err != nil || n < 0 || n > 3660 {
				ago.SetError(s.Say("refuse.number"))
				return
			}
			since = s.Desk.Clock.Now().Wall.Add(-time.Duration(n * float64(24*time.Hour)))
		}
		if err := s.Desk.RemoveDevice(d.Stream, since, why.Text()); err != nil {
			why.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(join(s.Say("devices.lost.ask", d.Letter), s.siteName(d.Site, "")), 22, widgets.Ink, true), widgets.NewPara(s.Say("devices.lost.how")), why, ago, widgets.NewFlow(160, cancel, save)))
	why.Focus()
}

// siteName is the name of a clinic of the district; nothing where it was written already, or is our own.
func (s *Stage) siteName(id model.ID, written string) string {
	if id.IsZero() {
		return ""
	}
	sites, err := s.Desk.Sites()
	if err != nil {
		return ""
	}
	for _, x := range sites {
		if x.ID == id && x.Name != written {
			return x.Name
		}
	}
	return ""
}
