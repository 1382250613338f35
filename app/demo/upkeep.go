package demo

import (
	"errors"

	"mvuke/app/work"
	"mvuke/model"
)

// upkeep is some care of the pot, a small burn, a piece at repair, and the officer's reference gauge.
func upkeep(d *work.Desk, clk *Clock) error {
	place, err := d.Place()
	if err != nil {
		return err
	}
	pot := place.Pots[0]
	_, err = d.SaveReference(model.ID{}, model.Reference{Name: "R-07", Unit: "kPa", ErrorMilli: 1600, Certificate: "NK-118", Due: clk.Wall.AddDate(0, 9, 0).UnixMilli()})
	sets, setsErr := d.Sets()
	err = errors.Join(err, setsErr,
		d.CareDone(pot, model.CareSeal, model.StockSeals, "old one was hard"),
		d.CareDone(pot, model.CareHearth, "", ""),
		d.Report(work.IncidentForm{Code: model.Burn, Text: "forearm at the valve; cooled for 20 minutes"}))
	for _, s := range sets {
		if s.List.Name == "delivery" {
			err = errors.Join(err, d.TellSetCare(s.ID, model.SetCare{What: model.PieceToRepair, Piece: "artery forceps", Count: 1, Note: "does not close"}))
		}
	}
	return err
}

// uncounted is the clinic of the district that never tells of its stock, and late the one whose deliveries stop before the end.
const uncounted, late = "Mbwari", "Oltana"

// stock counts a clinic's consumables in its first week, and then tells of what comes in every fourth: about what it uses in that time.
func (c *clinic) stock(w, weeks int) (err error) {
	if c.name == uncounted || w%officerEvery != 0 {
		return nil
	}
	stopped := c.name == late && w > weeks-12
	for _, x := range []struct {
		what       model.Consumable
		first, use int64
		missed     bool // somebody says so on the day that it is not there
	}{{model.StockTape, 30, 16, true}, {model.StockStrips, 30, 21, true}, {model.StockSpores, 6, 2, false}, {model.StockFuel, 8, 4, false}} {
		switch {
		case w == 0:
			err = errors.Join(err, c.d.TellStock(x.what, x.first, true))
		case !stopped:
			err = errors.Join(err, c.d.TellStock(x.what, x.use, false))
		case x.missed:
			err = errors.Join(err, c.d.StockOutToday(x.what))
		}
	}
	return err
}
