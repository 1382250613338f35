package widgets

import (
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Field is a text field with large text, its label above it and, when
// something is wrong, a sentence that says so below it.
type Field struct {
	widget.BaseWidget
	// Submitted, if set, is called when Enter is pressed, before a chained
	// field is gone to.
	Submitted func()
	// Entry is the text field itself.
	Entry *Input

	label, fault string
	changed      func(string)
	next         *Field
	large        *container.ThemeOverride
}

// NewField makes a field. The hint is shown while it is empty; changed, which
// may be nil, is told of every keystroke.
func NewField(label, hint string, changed func(string)) *Field {
	f := &Field{label: label, Entry: newInput(), changed: changed}
	f.Entry.SetPlaceHolder(hint)
	f.Entry.OnChanged = func(s string) {
		f.SetError("") // what was wrong is being put right
		if f.changed != nil {
			f.changed(s)
		}
	}
	f.Entry.OnSubmitted = func(string) { f.submit() }
	f.Entry.focus = f.Refresh
	f.large = container.NewThemeOverride(f.Entry, largeTheme{})
	f.ExtendBaseWidget(f)
	return f
}

// Chain makes Enter in each field go to the next.
func Chain(fields ...*Field) {
	for i := 1; i < len(fields); i++ {
		fields[i-1].next = fields[i]
	}
}

// WhenChanged sets who is told of every keystroke.
func (f *Field) WhenChanged(do func(string)) { f.changed = do }

// Text is what has been typed.
func (f *Field) Text() string { return f.Entry.Text }

// SetText puts text in; changed is told if it differs.
func (f *Field) SetText(s string) { f.Entry.SetText(s) }

// SetLabel changes the label.
func (f *Field) SetLabel(s string) { f.label = s; f.Refresh() }

// SetError shows what is wrong below the field; "" when nothing is.
func (f *Field) SetError(s string) {
	if f.fault != s {
		f.fault = s
		f.Refresh()
	}
}

// Focus puts the cursor into the field.
func (f *Field) Focus() { focusOn(f.Entry) }

// Enable lets text be typed.
func (f *Field) Enable() {
	f.Entry.Enable()
	f.Refresh()
}

// Disable keeps the text as it is.
func (f *Field) Disable() {
	f.Entry.Disable()
	f.Refresh()
}

// Disabled reports whether text cannot be typed.
func (f *Field) Disabled() bool { return f.Entry.Disabled() }

func (f *Field) submit() {
	if f.Submitted != nil {
		f.Submitted()
	}
	if f.next != nil {
		f.next.Focus()
	}
}
