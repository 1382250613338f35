package screens

import (
	"io"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
)

// Stock shows what is left of each consumable, how long it lasts, and what to order.
func Stock(s *Stage) fyne.CanvasObject {
	items, err := s.Desk.Stock()
	if err != nil {
		return Page(s.Say("stock.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("stock.hint")), widgets.NewButton(s.Say("stock.list"), widgets.Plain, func() { s.orderList(items) })}
	for _, it := range items {
		shape, colour, tag := widgets.Check, widgets.Green, s.Say("stock.enough")
		switch {
		case !it.Known:
			shape, colour, tag = widgets.Square, widgets.InkSoft, s.Say("stock.uncounted")
		case it.Left == 0:
			shape, colour, tag = widgets.Octagon, widgets.Vermilion, s.Say("stock.out")
		case it.Days >= 0 && it.Days < work.OrderWithin:
			shape, colour, tag = widgets.Triangle, widgets.InkSoft, s.Say("stock.order")
		}
		body = append(body, widgets.NewRow(shape, colour, tag, join(s.Say("stock."+string(it.What)), s.stockLine(it)), s.Say("stock.tell"), func() {
			s.WithPerson(func() { s.tellStock(it) })
		}))
	}
	return Page(s.Say("stock.title"), "", body...)
}

func (s *Stage) stockLine(it work.Item) string {
	if !it.Known {
		return ""
	}
	lasts, out := "", ""
	if it.Days >= 0 {
		lasts = s.Say("stock.days", count(it.Days))
	}
	if it.OutDays > 0 {
		out = s.Say("stock.outdays", count(int64(it.OutDays)))
	}
	return join(s.Say("stock.left", count(it.Left)), lasts, out)
}

// orderList writes what is to be ordered, for as long as stated, or says that nothing is.
func (s *Stage) orderList(items []work.Item) {
	var lines []paper.OrderLine
	for _, it := range items {
		if n := it.Order(); n > 0 {
			lines = append(lines, paper.OrderLine{What: s.Say("stock." + string(it.What)), Left: it.Left, PerMonth: it.PerMonth, Order: n})
		}
	}
	if len(lines) == 0 {
		s.Message(s.Say("stock.list.none"))
		return
	}
	place, err := s.Desk.Place()
	if !s.Tell(err) {
		return
	}
	s.Write("order-list.pdf", func(w io.Writer) error {
		return paper.OrderList(w, s.Words, paper.A4, place.Site.Name, lines, work.OrderFor, s.Desk.Clock.Now().Wall)
	})
}

// tellStock asks how many there are, or how many came.
func (s *Stage) tellStock(it work.Item) {
	var shut func()
	amount := widgets.NewField(s.Say("stock.amount"), "", nil)
	save := func(counted bool) func() {
		return func() {
			milli, ok := s.Number(amount)
			if !ok {
				return
			}
			if err := s.Desk.TellStock(it.What, milli/1000, counted); err != nil {
				amount.SetError(s.Fault(err))
				return
			}
			shut()
			s.Again()
		}
	}
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("stock."+string(it.What)), 22, widgets.Ink, true), amount,
		widgets.NewFlow(180, widgets.NewButton(s.Say("stock.counted"), widgets.Do, save(true)), widgets.NewButton(s.Say("stock.came"), widgets.Do, save(false))),
		widgets.NewButton(s.Say("stock.missing"), widgets.Plain, func() { shut(); s.done(s.Desk.StockOutToday(it.What)) }),
		widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })))
	amount.Focus()
}
