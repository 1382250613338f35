package screens

import (
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// KeyWords shows the keys of site and root as words, to be copied by pen.
func (s *Stage) keyWords() {
	place, err := s.Desk.Place()
	if !s.Tell(err) {
		return
	}
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, join(place.Site.Name, s.Words.Day(s.Desk.Clock.Now().Wall)), s.Say("words.how"))}
	root := false
	for _, key := range []string{"site", "root"} {
		words, err := s.Desk.KeyWords(key)
		if !s.Tell(err) {
			return
		}
		if len(words) == 0 {
			continue
		}
		root = root || key == "root"
		body = append(body, widgets.NewStrong(s.Say("words."+key)))
		var cells []fyne.CanvasObject
		for i, w := range words {
			cells = append(cells, widgets.NewBig(strconv.Itoa(i+1)+"  "+w, 20, widgets.Ink, true))
		}
		body = append(body, widgets.NewCard(widgets.NewFlow(190, cells...)))
	}
	buttons := []fyne.CanvasObject{widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { s.Go(ToSetup, model.ID{}) })}
	if root {
		buttons = append(buttons, widgets.NewButton(s.Say("words.replace"), widgets.Quiet, s.replaceRoot))
	}
	s.Show(Page(s.Say("words.title"), "", append(body, widgets.NewFlow(260, buttons...))...))
}

// replaceRoot asks, and shows the new words.
func (s *Stage) replaceRoot() {
	var shut func()
	yes := widgets.NewButton(s.Say("words.replace"), widgets.Harm, func() {
		err := s.Desk.ReplaceRoot()
		shut()
		if s.Tell(err) {
			s.keyWords()
		}
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("words.replace.ask"), 22, widgets.Ink, true), widgets.NewPara(s.Say("words.replace.how")), widgets.NewFlow(220, cancel, yes)))
}
