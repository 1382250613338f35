package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Knot is one thing that happened, on a line of a life.
type Knot struct {
	// Title stands above the line, When below it, Detail below that.
	Title, When, Detail string
	// Harm fills the knot, gives it corners and the colour of harm.
	Harm bool
	// Now fills the knot: it is the last one.
	Now bool
	// Tapped is what a tap does; nil for a knot that is only told.
	Tapped func()
}

// label is the knot in the order in which it is read.
func (k Knot) label() string {
	var parts []string
	for _, s := range []string{k.Title, k.When, k.Detail} {
		if s = strings.Join(strings.Fields(s), " "); s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ", ")
}

// LifeLine is a line with knots, the oldest first. Where they do not fit side
// by side the line goes on in a further row, from the left again: the order
// of reading must never turn round.
type LifeLine struct {
	widget.BaseWidget
	knots []Knot
	spots []*lifeSpot // one for each knot, nil where nothing can be tapped
}

// NewLifeLine makes the line.
func NewLifeLine(knots []Knot) *LifeLine {
	l := &LifeLine{}
	l.ExtendBaseWidget(l)
	l.SetKnots(knots)
	return l
}

// SetKnots changes the whole line. A knot that stays where it was keeps the
// focus, so that news coming in does not throw a person off the keyboard.
func (l *LifeLine) SetKnots(knots []Knot) {
	l.knots = append([]Knot(nil), knots...)
	old := l.spots
	l.spots = make([]*lifeSpot, len(l.knots))
	for i, k := range l.knots {
		if k.Tapped == nil {
			continue
		}
		if i < len(old) && old[i] != nil {
			l.spots[i], old[i] = old[i], nil
		} else {
			l.spots[i] = newLifeSpot(func(by int) { l.focus(i, by) })
		}
		l.spots[i].knot, l.spots[i].act = k, k.Tapped
	}
	for _, s := range old {
		if s != nil {
			s.drop()
		}
	}
	l.Refresh()
}

// focus goes to the next knot that can be tapped, in either direction.
func (l *LifeLine) focus(i, by int) {
	for i += by; i >= 0 && i < len(l.spots); i += by {
		if l.spots[i] != nil {
			focusOn(l.spots[i])
			return
		}
	}
}

// AccessibilityLabel is all of the knots in order.
func (l *LifeLine) AccessibilityLabel() string {
	var all []string
	for _, k := range l.knots {
		if s := k.label(); s != "" {
			all = append(all, s)
		}
	}
	return strings.Join(all, "; ")
}

// AccessibilityRole is text.
func (l *LifeLine) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by Fyne.
func (l *LifeLine) CreateRenderer() fyne.WidgetRenderer {
	r := &lifeRenderer{l: l}
	r.Refresh()
	return r
}
