package paper

import (
	"io"

	"mvuke/assets"
)

// LogSheet draws the blank log sheet: its lines stand in the order of the entry screens, so a month can
// be worked with a pen and typed in later.
func LogSheet(out io.Writer, w *assets.Words, size Size, c Card) error {
	s := newSheet(w, size, w.Say("paper.sheet"), c.Made)
	s.page()
	width := pageW - 2*margin
	s.text(margin, 18, 18, true, ink, width, w.Say("paper.sheet")+" · "+w.Say("card.title", c.Site.Name, c.Pot.Name))
	y := s.para(margin, 26, 11, width, true, blue, s.keepLine(c))
	y += 4
	for _, row := range [][]string{
		{"paper.cycle", "paper.day", "paper.who"},
		{"paper.packs"},
		{"paper.water", "paper.fuel", "paper.rest"},
	} {
		var labels []string
		for _, k := range row {
			labels = append(labels, w.Say(k))
		}
		s.blanks(margin, y, width, labels...)
		y += 9
	}
	steps := []string{"lit", "vent-start", "vent-end"}
	s.steps(margin, y, width, steps)
	y += 9
	s.grid(margin, y-4, width, 14, 8, w.Say("paper.minute"), w.Say("paper.needle", c.Plan.Unit), w.Say("paper.lowest"))
	y += 15*8 + 5
	s.steps(margin, y, width, []string{"steam-out", "zero", "opened"})
	y += 9
	s.steps(margin, y, width, []string{"dried", "cooled"})
	y += 7
	s.grid(margin, y-4, width, 4, 7, w.Say("paper.packs"), w.Say("paper.tape"), w.Say("paper.dry"), w.Say("paper.wrap"))
	y += 5*7 + 4
	s.blanks(margin, y, width, w.Say("paper.test"), w.Say("paper.released"))
	s.cautions(y+5, "caution.open", "caution.blocked", "caution.alone")
	s.endPage()
	return s.finish(out)
}

func (s *sheet) steps(x, y, width float64, codes []string) {
	var labels []string
	for _, c := range codes {
		labels = append(labels, s.w.Say("step."+c)+" ("+s.w.Say("paper.minute")+")")
	}
	s.blanks(x, y, width, labels...)
}
