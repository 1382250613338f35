package widgets

import "fyne.io/fyne/v2"

// boxRenderer renders a widget that is just a container.
type boxRenderer struct{ box *fyne.Container }

func (r *boxRenderer) MinSize() fyne.Size    { return r.box.MinSize() }
func (r *boxRenderer) Layout(size fyne.Size) { r.box.Resize(size) }
func (r *boxRenderer) Refresh()              { r.box.Refresh() }
func (r *boxRenderer) Destroy()              {}
func (r *boxRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box}
}
