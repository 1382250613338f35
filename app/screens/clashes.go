package screens

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Clashes is the desk of what was told twice and not alike: each opens where it is settled, and what is another clinic's says whose.
func Clashes(s *Stage) fyne.CanvasObject {
	all, err := s.Desk.Clashes()
	if err != nil {
		return Page(s.Say("clash.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("clash.how"))}
	for _, c := range all {
		tap, action := func() {}, ""
		if c.Own {
			tap, action = func() { s.Go(c.Go, c.ID) }, s.Say("clash.settle")
			if c.Choosable() {
				tap, action = func() { s.WithPerson(func() { s.settleClash(c) }) }, s.Say("clash.choose")
			}
		}
		text := join(append([]string{s.Say("clash."+c.Code, c.Args...)}, c.By...)...)
		for _, v := range c.Values {
			text = join(text, v.By+": "+s.clashSays(v))
		}
		if !c.Own && c.Site != "" {
			text = join(text, s.Say("clash.theirs", c.Site))
		}
		body = append(body, widgets.NewRow(widgets.Triangle, widgets.Brown, c.Site, text, action, tap))
	}
	if len(all) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("clash.none"))))
	}
	return Page(s.Say("clash.title"), "", append(body, widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }))...)
}

// settleClash asks which of the ways in which something is described is right. Where none is, it is described anew.
func (s *Stage) settleClash(c work.Clash) {
	var shut func()
	body := []fyne.CanvasObject{widgets.NewBig(s.Say("clash."+c.Code, c.Args...), 20, widgets.Ink, true), widgets.NewPara(s.Say("clash.choose.how"))}
	for _, v := range c.Values {
		body = append(body, widgets.NewRow(widgets.Square, widgets.Blue, v.By, s.clashSays(v), s.Say("clash.right"), func() {
			shut()
			widgets.Ask(s.Win, s.Say("clash.right"), v.By+": "+s.clashSays(v), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
				if sure {
					s.done(s.Desk.SettleClash(c, v.ID))
				}
			})
		}))
	}
	anew := widgets.NewButton(s.Say("clash.neither"), widgets.Plain, func() {
		shut()
		s.Go(c.Go, c.ID)
	})
	body = append(body, widgets.NewFlow(220, widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() }), anew))
	shut = s.Modal(widgets.NewColumn(body...))
}

// clashSays is what one way says.
func (s *Stage) clashSays(v work.ClashValue) string {
	var said []string
	for _, f := range v.Says {
		said = append(said, s.Say("clash.says."+f.Code, f.Value))
	}
	return strings.Join(said, ", ")
}
