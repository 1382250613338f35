package paper

import (
	"io"
	"strconv"
	"time"

	"mvuke/assets"
)

// OrderLine is one thing to order.
type OrderLine struct {
	What     string
	Left     int64
	PerMonth float64 // used; 0: not known
	Order    int64
}

// OrderList draws what a clinic orders so that it lasts so many days.
func OrderList(out io.Writer, w *assets.Words, size Size, site string, lines []OrderLine, days int, made time.Time) error {
	s := newSheet(w, size, w.Say("stock.list"), made)
	s.page()
	s.text(margin, 22, 20, true, ink, pageW-2*margin, w.Say("stock.list")+" · "+site)
	s.text(margin, 30, 11, false, soft, pageW-2*margin, w.Say("orderlist.for", w.Day(made), strconv.Itoa(days)))
	columns := []float64{margin, 108, 138, 172}
	for i, key := range []string{"orderlist.what", "orderlist.left", "orderlist.month", "orderlist.order"} {
		s.text(columns[i], 42, 10, true, soft, 34, w.Say(key))
	}
	y := 52.0
	for _, l := range lines {
		month := "–"
		if l.PerMonth > 0 {
			month = w.Number(l.PerMonth, 1)
		}
		s.text(columns[0], y, 13, false, ink, columns[1]-columns[0]-3, l.What)
		s.text(columns[1], y, 13, false, ink, 28, strconv.FormatInt(l.Left, 10))
		s.text(columns[2], y, 13, false, ink, 30, month)
		s.text(columns[3], y, 15, true, ink, 26, strconv.FormatInt(l.Order, 10))
		s.pen(pale, 0.2)
		s.Line(margin, y+3.5, pageW-margin, y+3.5)
		y += 11
	}
	s.endPage()
	return s.finish(out)
}
