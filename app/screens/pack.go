package screens

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Pack is a pack's whole story on one page: a line of its life, what it is now, and what can be done with it.
func Pack(s *Stage, id model.ID) fyne.CanvasObject {
	p, err := s.Desk.Pack(id)
	if err != nil {
		return Page(s.Say("packs.title"), "", widgets.NewPara(s.Fault(err)))
	}
	_, colour := shelfLook(p.State)
	state := s.Say("shelf." + string(p.State))
	if p.Out() && p.State.Good() {
		colour, state = widgets.InkSoft, join(s.Say("shelf.out"), s.wherePack(p))
	}
	body := []fyne.CanvasObject{widgets.NewLifeLine(s.knots(p)), widgets.NewNotice(colour, state, join(s.Say("shelf."+string(p.State)+".how"), s.lastDay(p), s.overridden(p)))}
	if p.State.Good() && s.Desk.FromCopy() {
		body = append(body, widgets.NewNotice(widgets.Vermilion, s.Say("pack.copy"), s.Say("pack.copy.how")))
	}
	open := slices.DeleteFunc(slices.Clone(p.Answer.Holds), func(h register.Hold) bool { return h.Final })
	for _, code := range register.Codes(open) {
		head := s.Say("hold." + code)
		if !slices.ContainsFunc(open, func(h register.Hold) bool {
			is := func(o register.Hold) bool { return o.ID == h.ID }
			return h.Code == code && (slices.ContainsFunc(p.Pack.State.Holds, is) || slices.ContainsFunc(p.Cycle.State.Holds, is))
		}) { // nobody saw it in this pack, nor in its load
			head = join(s.Say("state.pot-stopped"), head)
		}
		body = append(body, widgets.NewNotice(widgets.Vermilion, head, join(s.whyHeld(p.Answer.Holds, code), s.Say("pack.red"))))
	}
	if p.Missing() {
		var which []string
		for _, x := range p.Counted.Short {
			which = append(which, count(x.Want-x.Have)+" "+x.Piece)
		}
		body = append(body, widgets.NewNotice(widgets.Vermilion, join(append([]string{s.Say("count.clinician")}, which...)...), s.Say("pack.lost.how")))
	}
	if p.Lost != nil {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("pack.lost.closed"), p.Lost.Reason))
	}
	if p.NotFound && !p.Ended() {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("pack.not-found"), s.Say("pack.not-found.how")))
	}
	body = append(body, widgets.NewFlow(190, s.packButtons(p)...))
	if m := p.Made; m != nil {
		body = append(body, widgets.NewCard(widgets.NewColumn(
			widgets.NewPara(s.Say("pack.made", count(m.Present), count(m.Listed), s.Say("wrap."+string(m.Wrap)), s.whoMade(p))),
			widgets.NewSoft(join(s.without(m.Without), m.Lots)))))
	}
	if p.HasCycle {
		body = append(body, widgets.NewRow(widgets.Disc, widgets.Blue, s.Say("pack.load"), join(s.Say("knot.cycle", count(p.Cycle.Begun.Number)), packNames(p.Cycle)), s.Say("go.cycle"),
			func() { s.Go(ToCycle, p.Load) }))
	}
	if p.Opened != nil && len(p.Opened.Use) > 0 {
		number, here := s.Desk.UseOf(p.Opened.Use)
		if !here {
			number = s.Say("pack.use.elsewhere")
		}
		body = append(body, widgets.NewPara(s.Say("pack.use", number)))
	}
	return Page(join(s.Say("pack.title", p.Label), p.Set, s.siteIfOther(p.House)), join(state, s.lentTo(p)), append(body, widgets.NewSoft(s.Say("caution.chamber")))...)
}

// packButtons are what can be done with it now, what is usual first.
func (s *Stage) packButtons(p work.PackView) (out []fyne.CanvasObject) {
	add := func(key string, look widgets.Look, tap func()) {
		out = append(out, widgets.NewButton(s.Say(key), look, func() { s.WithPerson(tap) }))
	}
	ended := p.Over()
	if (p.State.Good() || p.State == work.ShelfUnknown) && !p.Elsewhere() {
		add("pack.use.do", widgets.Do, func() { s.use(p, false) })
	}
	if p.State.Good() && !p.Out() {
		for _, to := range s.lastIssued() {
			out = append(out, widgets.NewButton(s.Say("pack.issue.to", to), widgets.Do, func() {
				s.WithPerson(func() { s.done(s.Desk.MovePack(p.ID, model.PackMoved{What: model.MoveIssued, To: to})) })
			}))
		}
		add("pack.issue", widgets.Plain, func() { s.move(p, model.MoveIssued) })
		add("pack.lend", widgets.Plain, func() { s.move(p, model.MoveLent) })
		add("pack.send", widgets.Plain, func() { s.move(p, model.MoveSent) })
	}
	if p.Out() && !ended && s.Desk.MayComeBack(p) {
		add("pack.back", widgets.Do, func() {
			widgets.Ask(s.Win, s.Say("pack.back"), s.Say("pack.back.ask", p.Label), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
				if sure {
					s.done(s.Desk.MovePack(p.ID, model.PackMoved{What: model.MoveBack}))
				}
			})
		})
	}
	if p.Opened != nil {
		add("pack.count", widgets.Do, func() { s.countBack(p) })
	}
	if p.Missing() {
		add("pack.lost", widgets.Plain, func() {
			s.reason("pack.lost.ask", func(why string) { s.done(s.Desk.PieceLost(p.ID, why)) })
		})
	}
	for _, h := range p.Answer.Holds { // told by a device that was removed: of the pack itself
		if h.Open() && h.Code == register.HoldDoubted && h.Cause.Body().Kind == model.KindPackMade {
			out = append(out, widgets.NewButton(s.Say("release.clear", s.Say("hold."+h.Code)), widgets.Plain, func() {
				s.WithManager(func() {
					s.reason("release.clear.ask", func(why string) { s.done(s.Desk.ClearHold(model.Ref{Noun: model.NounPack, ID: p.ID}, h.Code, why)) })
				})
			}))
		}
	}
	if !ended && p.HasCycle && !p.Unwrapped() && p.State.Good() {
		add("pack.store", widgets.Plain, func() { s.move(p, model.MoveStored) })
	}
	if p.Made != nil && (p.State.Good() || p.State == work.ShelfMade || p.State == work.ShelfLoaded) {
		add("pack.label", widgets.Plain, func() { s.printLabel(p) })
	}
	if p.Borrowed() && !ended && !p.State.Good() && p.State != work.ShelfUnknown && p.Where() != model.MoveAside {
		add("pack.aside", widgets.Do, func() { s.done(s.Desk.SetAside(p.ID)) })
	}
	if p.State == work.ShelfRejected {
		add("pack.unwrapped", widgets.Do, func() { s.done(s.Desk.SpoilPack(p.ID, model.SpoiltOpened)) })
	}
	if !ended {
		add("pack.spoil", widgets.Harm, func() { s.spoil(p) })
		if !p.State.Good() && p.State != work.ShelfUnknown && p.State != work.ShelfMade {
			add("pack.used-anyway", widgets.Quiet, func() { s.use(p, true) })
		}
	}
	return out
}

// issuedTo is how many places a pack can be issued to by one tap: those of the latest issues.
const issuedTo = 2

// lastIssued are the places that packs were issued to of late.
func (s *Stage) lastIssued() []string {
	to, err := s.Desk.LastIssued(issuedTo)
	if err != nil {
		s.Note(err.Error())
	}
	return to
}

// knots are the line of its life.
func (s *Stage) knots(p work.PackView) (out []widgets.Knot) {
	for _, v := range p.Events {
		if k, ok := s.knot(p, v); ok {
			out = append(out, k)
		}
	}
	if n := len(out); n > 0 && !out[n-1].Harm {
		out[n-1].Now = true
	}
	return out
}

func (s *Stage) knot(p work.PackView, v entry.Verified) (k widgets.Knot, ok bool) {
	b := v.Body()
	at, known, err := s.Desk.Corrected(v)
	if err != nil || !known {
		k.When = s.Say("knot.doubt")
	} else {
		k.When = s.shortDay(at)
	}
	switch b.Kind {
	case model.KindPackMade:
		k.Title, k.Detail = s.Say("knot.made"), s.Say("knot.pieces", count(p.Made.Present), count(p.Made.Listed))
	case model.KindCycleBegun:
		var c model.CycleBegun
		if b.Decode(&c) != nil {
			return k, false
		}
		k.Title = s.Say("knot.cycle", count(c.Number))
		for _, r := range b.Refs() {
			if r.Noun == model.NounCycle {
				k.Tapped = func() { s.Go(ToCycle, r.ID) }
			}
		}
	case model.KindRelease:
		k.Title = s.Say("knot.released")
	case model.KindReject:
		k.Title, k.Harm = s.Say("knot.rejected"), true
	case model.KindPackMoved:
		var m model.PackMoved
		if b.Decode(&m) != nil {
			return k, false
		}
		k.Title, k.Detail = s.Say("knot."+string(m.What)), join(m.To, s.siteName(m.Site, m.To))
	case model.KindPackOpened:
		var o model.PackOpened
		_ = b.Decode(&o)
		k.Title, k.Detail, k.Harm = s.Say("knot.opened"), s.Say("strip."+string(o.Strip)), o.Strip == model.StripNot
	case model.KindPackSpoilt:
		var o model.PackSpoilt
		_ = b.Decode(&o)
		k.Title, k.Detail, k.Harm = s.Say("knot.spoilt"), s.Say("spoilt."+string(o.Why)), true
	case model.KindSetCounted:
		var c model.SetCounted
		if b.Decode(&c) != nil {
			return k, false
		}
		k.Title, k.Detail, k.Harm = s.Say("knot.counted"), s.Say("knot.pieces", count(c.Present), count(c.Listed)), c.Present < c.Listed && !c.Counted
	case model.KindPieceLost:
		k.Title, k.Harm = s.Say("knot.lost"), true
	case model.KindShelfCount:
		k.Title = s.Say("knot.shelf")
	case model.KindHold:
		k.Title, k.Harm = s.Say("knot.held"), true
	default:
		return k, false
	}
	return k, true
}

func (s *Stage) shortDay(t time.Time) string { return s.Words.Day(t) }

// whoMade is who packed it; of another clinic, whose people are not known here, the clinic.
func (s *Stage) whoMade(p work.PackView) string {
	if name := s.Desk.Person(p.MadeBy.Body().Person).Name; name != "" {
		return name
	}
	return s.siteName(p.House, "")
}

// lentTo is the clinic where a pack lies that is not its own.
func (s *Stage) lentTo(p work.PackView) string {
	if p.At == p.House {
		return ""
	}
	return s.siteName(p.At, "")
}
