package screens

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// KeyWords shows the keys of site and root as words, to be copied by pen.
func (s *Stage) keyWords() {
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("words.title"), s.Say("words.how"))}
	for _, key := range []string{"site", "root"} {
		words, err := s.Desk.KeyWords(key)
		if !s.Tell(err) {
			return
		}
		if len(words) == 0 {
			continue
		}
		body = append(body, widgets.NewStrong(s.Say("words."+key)))
		for row := 0; row < len(words); row += 6 {
			var line []string
			for i, w := range words[row:min(row+6, len(words))] {
				line = append(line, strconv.Itoa(row+i+1)+" "+w)
			}
			body = append(body, widgets.NewBig(strings.Join(line, "   "), 18, widgets.Ink, true))
		}
	}
	s.Show(Page(s.Say("words.title"), "", append(body, widgets.NewButton(s.Say("do.ok"), widgets.Do, func() { s.Go(ToSetup, model.ID{}) }))...))
}
