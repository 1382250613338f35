package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Lines is a field of several lines, as long as a slip of paper.
type Lines struct {
	widget.BaseWidget
	label string
	entry *widget.Entry
	box   *fyne.Container
}

// NewLines makes the field with its label above it; changed is told of every keystroke.
func NewLines(label, hint, text string, changed func(string)) *Lines {
	l := &Lines{label: label, entry: widget.NewMultiLineEntry()}
	l.entry.SetText(text)
	l.entry.SetPlaceHolder(hint)
	l.entry.SetMinRowsVisible(5)
	l.entry.OnChanged = changed
	l.box = container.NewBorder(NewPara(label), nil, nil, nil, l.entry)
	l.ExtendBaseWidget(l)
	return l
}

// Text is what stands in the field.
func (l *Lines) Text() string { return l.entry.Text }

// CreateRenderer is Fyne's.
func (l *Lines) CreateRenderer() fyne.WidgetRenderer {
	watch(l, func() string { return l.label })
	return widget.NewSimpleRenderer(l.box)
}
