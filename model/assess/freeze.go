package assess

import (
	"math"

	"mvuke/model"
	"mvuke/steam"
	"mvuke/steam/lethality"
)

// Basis is what a plan stands on beside the request.
type Basis struct {
	VentMinutes int64
	GapMinutes  int64
	AskMinutes  int64
	DoseMilli   int64
	HeightM     int64
	Policies    []string
}

// Promise is the dose that a plan may count on, for reminders every AskMinutes.
func (b Basis) Promise() func(atMark, atRestart steam.Celsius) float64 {
	lim := lethality.DefaultLimits
	lim.Reach = float64(b.GapMinutes)
	return lethality.PerMinute(float64(b.AskMinutes), lim)
}

// Freeze writes a plan down in whole numbers: errors rounded up, ambient bounds outward.
func Freeze(r steam.Request, p steam.Plan, b Basis) model.FrozenPlan {
	g := r.Gauge
	f := model.FrozenPlan{
		Unit: string(g.Unit), SpanMilli: milli(g.Span), LineMilli: milli(g.Line), ClassMilli: milli(g.CountedClass()),
		ErrorPa: up(float64(g.Error())), ReadingPa: up(float64(g.ReadingError())), OffsetPa: int64(math.Round(float64(g.Offset))),
		NominalPa: int64(math.Round(float64(r.Air.Nominal))), LowPa: int64(math.Floor(float64(r.Air.Low))), HighPa: up(float64(r.Air.High)),
		NeedPa: up(float64(p.Need)), RestartMilli: milli(p.Restart), MarkMilli: milli(p.Mark), LimitMilli: milli(p.Limit),
		Minutes: int64(p.Minutes), VentMinutes: b.VentMinutes, GapMinutes: b.GapMinutes, DoseMilli: b.DoseMilli,
		Standing: string(g.Standing), HeightM: b.HeightM, Policy: b.Policies,
	}
	for _, c := range g.Corrections {
		if g.Standing == steam.Compared || c.Error > 0 {
			f.Corrections = append(f.Corrections, model.FrozenCorrection{AtMilli: milli(c.At), ErrorMilli: milli(c.Error)})
		}
	}
	if f.CountedPa = counted(g, p.Restart, g.Error()); f.CountedPa == 0 {
		f.CountedPa = -1 // 0 is of old records
	}
	return f
}

func milli(v float64) int64 { return int64(math.Round(v * 1000)) }
func up(v float64) int64    { return int64(math.Ceil(v - 1e-9)) }

// thaw gives back the gauge and the air of a frozen plan. The frozen error is kept as it
// was, whatever the sums would say today.
func thaw(f model.FrozenPlan) (frozenGauge, steam.Ambient) {
	g := steam.Gauge{Unit: steam.Unit(f.Unit), Span: float64(f.SpanMilli) / 1000, Line: float64(f.LineMilli) / 1000,
		Class: float64(f.ClassMilli) / 1000, Standing: steam.Standing(f.Standing), Offset: steam.Over(f.OffsetPa)}
	for _, c := range f.Corrections {
		g.Corrections = append(g.Corrections, steam.Correction{At: float64(c.AtMilli) / 1000, Error: float64(c.ErrorMilli) / 1000})
	}
	return frozenGauge{g, steam.Over(f.ErrorPa), steam.Over(f.ReadingPa)},
		steam.Ambient{Nominal: steam.Absolute(f.NominalPa), Low: steam.Absolute(f.LowPa), High: steam.Absolute(f.HighPa)}
}

// Meaning is what a figure on the dial of a frozen plan means for the chamber, if the air is out; in the dial's unit.
func Meaning(f model.FrozenPlan, shown float64) (steam.Bounds, error) {
	g, air := thaw(f)
	return g.at(shown, air)
}

type frozenGauge struct {
	steam.Gauge
	off, reading steam.Over
}

// at bounds the temperature behind a shown figure with the frozen errors.
func (g frozenGauge) at(shown float64, air steam.Ambient) (steam.Bounds, error) {
	return g.Gauge.TemperatureWithin(shown, air, g.off+g.reading)
}

// counted is the error that a plan allows for where it is judged: what the gauge is known to show too much at the line, and what it may err besides; rounded down.
func counted(g steam.Gauge, line float64, off steam.Over) int64 {
	return int64(math.Floor(float64(g.Unit.Over(line)-g.Offset-g.True(line)+off) + 1e-6))
}
