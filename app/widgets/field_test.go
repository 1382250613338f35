package widgets

import (
	"testing"

	"fyne.io/fyne/v2/test"
)

// What was said to be wrong goes with the next keystroke: it is being put right.
func TestAFaultGoesWithTheNextKeystroke(t *testing.T) {
	test.NewTempApp(t)
	told := ""
	f := NewField("Water in, litres", "2.6", nil)
	f.WhenChanged(func(s string) { told = s })
	f.SetError("That is not a number.")
	f.SetText("2")
	if f.fault != "" || told != "2" {
		t.Errorf("still said: %q; told %q", f.fault, told)
	}
}
