package work

import (
	"math"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Lifting the safety valve on purpose.

// LiftValve records the safety valve lifted on purpose, with the needle at which it lifted; or not lifting, which stops the pot.
func (d *Desk) LiftValve(pot Pot, lifted bool, needle int64) error {
	u := steam.Unit(pot.Gauge.Unit)
	found := int64(math.Floor(float64(u.Over(float64(needle) / 1000))))
	if lifted && (found < 50_000 || found > 400_000 || needle > pot.Gauge.SpanMilli) {
		return refuse("valve-found")
	}
	if high := ValveTooHigh(pot, needle); lifted && high { // it protects nobody: as good as stuck
		lifted = false
	} else if lifted {
		if err := d.mayManage(); err != nil {
			return err
		}
	} else {
		found = 0
	}
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return err
	}
	var knew []entry.ID // the failures that it was lifted in knowledge of
	for _, h := range st.Holds {
		if h.Open() && h.Code == register.HoldValve {
			knew = append(knew, h.Cause.ID())
		}
	}
	_, err = d.sign(entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Relies: knew,
		Payload: model.ValveTest{Lifted: lifted, FoundPa: found, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// ValveTooHigh says whether a valve that lifted at a needle lets the pot above its own limit.
func ValveTooHigh(pot Pot, needle int64) bool {
	limit := pot.highest()
	return limit > 0 && int64(steam.Unit(pot.Gauge.Unit).Over(float64(needle)/1000)) > limit
}
