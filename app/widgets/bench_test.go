package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func BenchmarkPaint(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(NewTheme(nil, nil, 1))
	dial, curve := NewDial(demoDial(), nil), NewCurve(demoCurve())
	dial.Resize(fyne.NewSquareSize(300))
	curve.Resize(fyne.NewSize(850, 140))
	d := test.WidgetRenderer(dial).(*dialRenderer)
	c := test.WidgetRenderer(curve).(*curveRenderer)
	b.Run("dial", func(b *testing.B) {
		for b.Loop() {
			d.face.Generator(300, 300)
			d.needle.Generator(300, 300)
		}
	})
	b.Run("curve", func(b *testing.B) {
		for b.Loop() {
			c.face.Generator(850, 140)
		}
	})
}
