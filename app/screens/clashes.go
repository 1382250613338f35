package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
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
			to := c.Go
			tap, action = func() { s.Go(to, c.ID) }, s.Say("clash.settle")
		}
		text := join(append([]string{s.Say("clash."+c.Code, c.Args...)}, c.By...)...)
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
