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
	for _, key := range []string{"site", "root"} {
		words, err := s.Desk.KeyWords(key)
		if !s.Tell(err) {
			return
		}
		if len(words) == 0 {
			continue
		}
		body = append(body, widgets.NewStrong(s.Say("words."+key)))
		var cells []fyne.CanvasObject
		for i, w := range words {
			cells = append(cells, widgets.NewBig(strconv.Itoa(i+1)+"  "+w, 20, widgets.Ink, true))
		}
		body = append(body, widgets.NewCard(widgets.NewFlow(190, cells...)))
	}
	s.Show(Page(s.Say("words.title"), "", append(body, widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { s.Go(ToSetup, model.ID{}) }))...))
}
