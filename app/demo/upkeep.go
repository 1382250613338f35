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
