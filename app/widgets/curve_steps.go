package widgets

import "sort"

// stepWord is a step that found its place.
type stepWord struct {
	text     string
	size     float32
	now      bool
	from, to float32
}

// placeSteps gives room first to the current step, then from left to right.
// A word that would touch another is written smaller, shortened, or left out.
func placeSteps(steps []StepMark, font, width float32, x func(float64) float32) []stepWord {
	const apart, edge = 10, 6
	order := make([]StepMark, 0, len(steps))
	for _, s := range steps {
		if finite(s.At) && s.Text != "" {
			order = append(order, s)
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return order[i].Now && !order[j].Now })
	var out []stepWord
	free := func(from, to float32) bool {
		for _, w := range out {
			if from < w.to+apart && to > w.from-apart {
				return false
			}
		}
		return true
	}
	for i, s := range order {
		now := s.Now && i == 0
		mid := x(s.At)
		for n, part := range []float32{1, 0.86, 0.86} {
			size, text := font*part, s.Text
			if n == 2 { // as short as still makes sense
				text = shorten(text, size, now, size*4)
			}
			wide := min(textWidth(text, size, now), width-2*edge)
			text = shorten(text, size, now, wide+0.5)
			from := clamp(mid-wide/2, edge, max(edge, width-edge-wide))
			if now || free(from, from+wide) {
				out = append(out, stepWord{text, size, now, from, from + wide})
				break
			}
		}
	}
	return out
}
