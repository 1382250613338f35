package assess

import (
	"fmt"
	"math"

	"mvuke/model"
	"mvuke/steam"
)

// CheckPlan says whether a plan that came from outside can be one that this program made: nothing left
// out, nothing softer than the rules. A missing number would otherwise be zero, the friendly side.
func CheckPlan(f model.FrozenPlan, item model.Item, rules model.Policies) error {
	need, err := steam.Psat(Set)
	if err != nil {
		return err
	}
	u := steam.Unit(f.Unit)
	code := model.PolicyWrapped
	if item == model.Unwrapped {
		code = model.PolicyUnwrapped
	}
	g, _ := thaw(f)
	plate := float64(u.Over(g.Class / 100 * g.Span)) // what the class says, where no comparison says better
	if len(f.Corrections) > 0 && f.Standing == string(steam.Compared) {
		plate = 0
	}
	reading := float64(u.Over(g.Line / 2))
	if g.Class == 0 {
		reading = 0
	}
	const dust = 2 // Pa: both sides are rounded to whole pascals
	allowed := float64(0)
	if u.Known() {
		allowed = float64(counted(g.Gauge, float64(f.RestartMilli)/1000, steam.Over(f.ErrorPa)))
	}
	for what, bad := range map[string]bool{
		"unit":             !u.Known(),
		"item":             item != model.Wrapped && item != model.Unwrapped,
		"ambient pressure": f.LowPa < 30e3 || f.LowPa > f.NominalPa || f.NominalPa > f.HighPa || f.HighPa > 120e3,
		"errors":           float64(f.ErrorPa)+dust < plate || float64(f.ReadingPa)+dust < reading,
		"allowance":        f.CountedPa != 0 && math.Abs(float64(f.CountedPa)-allowed) > dust, // 0: of an old record
		"need":             float64(f.NeedPa)+dust < float64(need)-float64(f.NominalPa),
		"restart line":     !u.Known() || float64(g.True(float64(f.RestartMilli)/1000))+dust < float64(f.NeedPa),
		"mark":             f.MarkMilli < f.RestartMilli || f.MarkMilli > f.SpanMilli,
		"minutes":          f.Minutes < rules.Value(code),
		"vent":             f.VentMinutes < rules.Value(model.PolicyVent),
		"reading limit":    f.GapMinutes <= 0 || f.GapMinutes > rules.Value(model.PolicyGap),
		"guaranteed dose":  f.DoseMilli < rules.Value(model.PolicyDose),
	} {
		if bad {
			return fmt.Errorf("the plan's %s is missing or softer than the rules; make the plan anew", what)
		}
	}
	return nil
}
