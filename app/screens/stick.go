package screens

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Stick carries entries between registers: take out, bring in, and what others are known to hold of ours.
func Stick(s *Stage) fyne.CanvasObject {
	drives, err := work.Drives()
	if err != nil {
		s.Note(err.Error())
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("stick.what"))}
	for _, d := range drives {
		shape, colour, tag := widgets.Square, widgets.Blue, s.Say("stick.room", work.Room(d.Path))
		if d.ReadOnly {
			shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.Say("stick.read-only")
		}
		body = append(body, widgets.NewRow(shape, colour, tag, join(d.Name, d.Kind), s.Say("stick.choose"), func() { s.Show(s.stickAt(d.Path)) }))
	}
	if len(drives) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("stick.none"))))
	}
	again := widgets.NewButton(s.Say("stick.again"), widgets.Do, func() { s.Go(ToStick, model.ID{}) })
	folder := widgets.NewField(s.Say("stick.folder"), "", nil)
	open := func() {
		if path := strings.TrimSpace(folder.Text()); path != "" {
			s.Show(s.stickAt(path))
		}
	}
	folder.Entry.OnSubmitted = func(string) { open() }
	body = append(body, again, folder, widgets.NewButton(s.Say("stick.choose"), widgets.Plain, open))
	body = append(body, s.heldElsewhere()...)
	body = append(body, s.joinState()...)
	body = append(body, widgets.NewButton(s.Say("devices.title"), widgets.Plain, func() { s.Go(ToDevices, model.ID{}) }))
	return Page(s.Say("stick.title"), "", body...)
}

// heldElsewhere says what other devices said they hold of what was written here.
func (s *Stage) heldElsewhere() []fyne.CanvasObject {
	list, err := s.Desk.HeldElsewhere()
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	out := []fyne.CanvasObject{widgets.NewStrong(s.Say("stick.held"))}
	sites, err := s.Desk.Sites()
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	for _, h := range list {
		name := ""
		for _, x := range sites {
			if x.ID == h.Site {
				name = x.Name
			}
		}
		shape, colour, tag := widgets.Check, widgets.Green, s.Say("stick.held.all")
		if h.Seq < h.Ours {
			shape, colour, tag = widgets.Square, widgets.InkSoft, s.Say("stick.held.part", count(int64(h.Seq)), count(int64(h.Ours)))
		}
		out = append(out, widgets.NewRow(shape, colour, tag, join(name, s.Say("stick.said", s.Words.Day(day(h.Wall)))), "", func() {}))
	}
	if len(list) == 0 {
		out = append(out, widgets.NewSoft(s.Say("stick.held.none")))
	}
	return out
}

// stickAt is one stick, or a folder: what to take out, and bringing in.
func (s *Stage) stickAt(path string) fyne.CanvasObject {
	sites, err := s.Desk.Sites()
	if err != nil {
		return Page(s.Say("stick.title"), "", widgets.NewPara(s.Fault(err)))
	}
	to := newRecipients(s, sites)
	how := widgets.NewChoice([]string{s.Say("stick.lacking"), s.Say("stick.everything")}, 0, nil)
	out := widgets.NewButton(s.Say("stick.out"), widgets.Do, func() {
		site, ok := to.chosen()
		if !ok {
			s.Message(s.Say("refuse.one", s.Say("stick.to")))
			return
		}
		s.WithPerson(func() { s.takeOut(site, path, how.Selected == 1) })
	})
	in := widgets.NewButton(s.Say("stick.in"), widgets.Do, func() { s.WithPerson(func() { s.bringIn(path) }) })
	back := widgets.NewButton(s.Say("do.back"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) })
	body := append([]fyne.CanvasObject{in, widgets.NewStrong(s.Say("stick.to")), to.object, how, out}, s.mayAsk(path)...)
	return Page(s.Say("stick.title"), filepath.Base(path), append(body, back)...)
}

// takeOut writes, and says at each step whether the stick may be pulled.
func (s *Stage) takeOut(site work.SiteKnown, path string, everything bool) {
	now := widgets.NewBig(s.Say("stick.step.0"), 24, widgets.Ink, true)
	pull := widgets.NewNotice(widgets.Vermilion, s.Say("stick.wait"), path)
	s.Show(Page(s.Say("stick.out"), filepath.Base(path), pull, now))
	s.Background(func() {
		taken, err := s.Desk.TakeOut(site.ID, path, everything, func(_ string, step, done, all int) {
			s.Foreground(func() { now.SetText(s.Say("stick.step."+count(int64(step))) + " " + percent(done, all)) })
		})
		s.Foreground(func() {
			back := widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { s.Go(ToStick, model.ID{}) })
			if err != nil {
				s.Show(Page(s.Say("stick.out"), filepath.Base(path), widgets.NewNotice(widgets.Vermilion, s.Fault(err), s.Say("stick.nothing-lost")), back))
				return
			}
			s.Note("taken-out")
			s.Show(Page(s.Say("stick.out"), filepath.Base(path), widgets.NewNotice(widgets.Green, s.Say("stick.safe"), s.Words.Count("stick.acts", taken.Entries)),
				widgets.NewPara(s.Say("stick.safe.how")), back))
		})
	})
}

func percent(done, all int) string {
	if all == 0 || done >= all {
		return ""
	}
	return count(int64(done*100/all)) + " %"
}

// bringIn takes in what lies there, and shows each file with its verdict.
func (s *Stage) bringIn(path string) {
	s.Show(Page(s.Say("stick.in"), filepath.Base(path), widgets.NewNotice(widgets.Vermilion, s.Say("stick.wait"), s.Say("stick.reading"))))
	s.Background(func() {
		in, err := s.Desk.BringIn(path)
		s.Foreground(func() { s.Show(s.brought(path, in, err)) })
	})
}

func (s *Stage) brought(path string, in work.BroughtIn, err error) fyne.CanvasObject {
	back := widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { s.Go(ToStick, model.ID{}) })
	if err != nil {
		return Page(s.Say("stick.in"), filepath.Base(path), widgets.NewNotice(widgets.Vermilion, s.Fault(err), s.Say("stick.nothing-lost")), back)
	}
	s.Note("brought-in")
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Green, s.Say("stick.pull"), s.Say("stick.pull.how"))}
	if slices.ContainsFunc(in.Asks, func(a work.Applicant) bool { return !a.In }) { // the answer goes onto this stick
		back = widgets.NewButton(s.Say("join.not-now"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) })
		body = []fyne.CanvasObject{widgets.NewNotice(widgets.Blue, s.Say("join.leave-in"), s.Say("join.leave-in.how"))}
	}
	if in.Stops() {
		head, how := s.Say("stick.stops"), s.Say("stick.stops.how")
		if in.OnlyWords() {
			head, how = s.Say("stick.words"), s.Say("stick.words.how")
		}
		body = append(body, widgets.NewNotice(widgets.Vermilion, head, how))
		for _, l := range in.Stopped {
			body = append(body, todayRow(s, l))
		}
		for _, x := range in.Worse {
			body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("tag.stop"), s.Say("stick.worse", x.Name), "", func() { s.Go(ToSite, x.ID) }))
			body = append(body, s.worseLoads(x)...)
		}
		back = widgets.NewButton(s.Say("stick.stops.go"), widgets.Do, func() { s.Go(ToToday, model.ID{}) })
	}
	body = append(body, s.asking(path, in)...)
	for _, f := range in.Files {
		if f.Invited != nil {
			return s.invited(path, f.Invited)
		}
		shape, colour := widgets.Octagon, widgets.Vermilion
		switch f.Verdict {
		case work.CarryOthers:
			shape, colour = widgets.Square, widgets.InkSoft
		case work.CarryNew:
			shape, colour = widgets.Check, widgets.Green
		case work.CarryHave:
			shape, colour = widgets.Square, widgets.InkSoft
		}
		tag := s.Say("carry." + string(f.Verdict))
		if f.Gone {
			shape, colour, tag = widgets.Triangle, widgets.Amber, s.Say("stick.gone")
		}
		body = append(body, widgets.NewRow(shape, colour, tag, join(s.from(f), s.cameIn(f), s.Say("carry."+string(f.Verdict)+".how"), s.ahead(f)), "", func() {}))
	}
	if len(in.Files)+len(in.Asks) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("stick.empty"))))
	}
	if in.Cut {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("stick.cut"), ""))
	}
	return Page(s.Say("stick.in"), filepath.Base(path), append(body, back)...)
}

// from is whose file it is: the site's name, else the file's.
func (s *Stage) from(f work.Brought) string {
	if f.From != "" {
		return s.Say("stick.from", f.From)
	}
	return filepath.Base(f.File)
}

// ahead says that the other's clock was ahead of ours: one of the two is wrong.
func (s *Stage) ahead(f work.Brought) string {
	if f.Ahead == 0 {
		return ""
	}
	return s.Words.Count("stick.ahead", int(f.Ahead.Hours()/24))
}

// cameIn says in the trade's words what was new.
func (s *Stage) cameIn(f work.Brought) string {
	var parts []string
	for _, k := range work.Came {
		if n := f.Came(k); n > 0 {
			parts = append(parts, s.Words.Count("came."+k, n))
		}
	}
	if f.Waiting > 0 {
		parts = append(parts, s.Words.Count("came.waiting", f.Waiting))
	}
	return strings.Join(parts, ", ")
}

// worseLoads names the loads of a clinic that are stopped since, with what stops each, as far as there is room; its page has all.
func (s *Stage) worseLoads(x work.Worse) (out []fyne.CanvasObject) {
	for _, id := range x.Loads[:min(len(x.Loads), 8)] {
		c, err := s.Desk.Cycle(id)
		if err != nil {
			return append(out, widgets.NewPara(s.Fault(err)))
		}
		out = append(out, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("knot.cycle", count(c.Begun.Number)), join(s.when(c), s.whyStopped(c)), s.Say("go.cycle"), func() { s.Go(ToCycle, id) }))
	}
	return out
}

// whyStopped is what stops a load, in one line.
func (s *Stage) whyStopped(c register.Cycle) string {
	codes, err := s.Desk.StopCodes(c)
	if err != nil {
		return s.Fault(err)
	}
	return s.Words.Each("hold.", codes)
}
