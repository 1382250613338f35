package assess

import (
	"math"

	"mvuke/model"
	"mvuke/steam"
)

// What stands around the hold: the vent before it, the needle at rest, the end.

// ventReasons asks for a vent by the site's rule that ended before the hold began, and that the
// needle did not fall back to rest between (a pot that cools shut draws air in).
func (in Input) ventReasons(why *reasons, looks []look, proven, possible run) bool {
	hold := proven
	if hold.minutes == 0 {
		hold = possible
	}
	begin := math.Inf(1)
	if hold.minutes > 0 {
		begin = looks[hold.from].minute
	}
	asked := float64(in.Plan.VentMinutes)
	best, end, some := 0.0, 0.0, false
	start, lit := math.NaN(), math.Inf(-1)
	for _, s := range in.Steps {
		if s.Code == model.StepLit {
			lit = max(lit, float64(s.At)/60000) // steam before the fire is none
		}
	}
	for _, s := range in.Steps {
		at := float64(s.At) / 60000
		switch s.Code {
		case model.StepVentStart:
			if start = at; at < lit || s.Unproven {
				start = math.NaN()
			}
		case model.StepVentEnd:
			if math.IsNaN(start) || at > begin || s.Unproven || in.unprovenBetween(start, at) || in.shutBetween(looks, start, at) {
				continue
			}
			some = true
			if d := at - start; d >= best {
				best, end = d, at
			}
			start = math.NaN()
		}
	}
	switch {
	case !some:
		why.add(VentMissing, short(asked))
		return false
	case best < asked-close:
		why.add(VentShort, one(floor1(best)), short(asked))
		return false
	}
	risen, seen := false, end
	for _, l := range looks {
		if l.minute < end {
			continue
		}
		if l.minute-seen > longestUnseen || in.unprovenBetween(seen, l.minute) {
			why.add(VentStale)
			return false
		}
		if l.minute >= begin {
			break
		}
		seen = l.minute
		risen = risen || l.needle > in.restBand()
		if risen && l.needle <= in.restBand() {
			why.add(VentStale)
			return false
		}
	}
	return true
}

// longestUnseen is the time without a look, between the vent and the hold, after which nobody can say
// that the pot did not cool and draw air in (common practice, no source).
const longestUnseen = 45 // minutes

// shutBetween says whether the needle rose while the air valve was said to be open.
func (in Input) shutBetween(looks []look, from, to float64) bool {
	for _, l := range looks {
		if l.minute > from && l.minute < to && l.needle > in.restBand() {
			return true
		}
	}
	return false
}

// restBand is how far from rest the needle may stand and still be called on zero: half of the
// finest line, and never less than 1 kPa (a person's eye).
func (in Input) restBand() float64 {
	u := steam.Unit(in.Plan.Unit)
	band := u.Of(steam.Over(max(in.Plan.ReadingPa, 1000)))
	if in.Rest != nil {
		band += float64(*in.Rest) / 1000
	}
	return band
}

// restReasons judges the needle at rest before the cycle.
func (in Input) restReasons(why *reasons, g frozenGauge, air steam.Ambient) (bounded bool) {
	if in.Rest == nil {
		why.add(RestMissing)
		return false
	}
	shown := float64(*in.Rest) / 1000
	kind, offset := g.AtRest(shown, air)
	if kind == steam.RestUnbounded || math.Abs(float64(offset)-float64(in.Plan.OffsetPa)) > float64(in.Plan.ErrorPa)+1000 {
		why.add(GaugeUnbounded, two(shown))
		return false
	}
	return true
}

// endReasons asks that zero was seen before opening, and that the needle came back to rest.
func (in Input) endReasons(why *reasons, looks []look) {
	for _, i := range in.Incidents {
		if i.Code == model.OpenedUnderPressure {
			why.add(OpenedUnder, two(float64(i.NeedleMilli)/1000))
			return
		}
	}
	zero := false
	last := 0.0
	if len(looks) > 0 {
		last = lastUp(looks, float64(in.Plan.RestartMilli)/1000)
	}
	for _, s := range in.Steps {
		needle := float64(s.NeedleMilli) / 1000
		switch s.Code {
		case model.StepZero:
			if float64(s.At)/60000 <= last || s.Unproven {
				continue // before the hold: not this zero
			}
			zero = true
			if s.HasNeedle && !in.backAtRest(needle) {
				rest := 0.0
				if in.Rest != nil {
					rest = float64(*in.Rest) / 1000
				}
				why.add(RestNotReturned, two(rest), two(needle))
			}
		case model.StepOpened:
			if s.HasNeedle && needle > in.restBand() && float64(s.At)/60000 >= last {
				why.add(OpenedUnder, two(needle))
				return
			}
			if !zero {
				why.add(ZeroMissing)
				return
			}
		}
	}
	if !zero {
		why.add(ZeroMissing)
	}
}

// lastUp is the minute of the last look at or above half the line: zero must be seen after it.
func lastUp(looks []look, line float64) (minute float64) {
	for _, l := range looks {
		if l.needle >= line/2 {
			minute = l.minute
		}
	}
	return minute
}

func (in Input) backAtRest(needle float64) bool {
	u := steam.Unit(in.Plan.Unit)
	off := u.Of(steam.Over(max(in.Plan.ErrorPa, in.Plan.ReadingPa, 1000)))
	rest := u.Of(steam.Over(in.Plan.OffsetPa))
	if in.Rest != nil {
		rest = float64(*in.Rest) / 1000
	}
	return math.Abs(needle-rest) <= off+1e-9
}

// airReasons compares an added thermometer with the gauge at every look after the vent at which the needle had risen: too cool
// for the pressure, even with both instruments at their worst, is air. What cannot be compared is a doubt.
func (in Input) airReasons(why *reasons, looks []look, bounds []steam.Bounds, g frozenGauge, air steam.Ambient) {
	line, coolest, vented := float64(in.Plan.RestartMilli)/1000, math.Inf(1), math.Inf(-1)
	for _, s := range in.Steps {
		if s.Code == model.StepVentEnd {
			vented = float64(s.At) / 60000
		}
	}
	worst, at, odd, unsure := 0.0, -1, -1, -1
	for i, l := range looks {
		if l.thermo == 0 || l.minute < vented || l.needle <= in.restBand() {
			continue // a thermometer that is still warming up with the water says nothing
		}
		if l.needle >= line {
			coolest = min(coolest, l.thermo)
		}
		e, err := steam.EstimateAir(g.True(l.needle), g.off+g.reading, steam.Celsius(l.thermo), ThermometerError, air)
		switch {
		case err != nil:
			odd = i
		case e.Said == steam.AirSuspected && e.Low > worst:
			worst, at = e.Low, i
		case e.Said == steam.AirUnsure:
			unsure = i
		}
	}
	if coolest+ThermometerError < float64(Set) {
		why.add(ThermometerLow, one(coolest))
	}
	switch {
	case at >= 0:
		l := looks[at]
		left, err := steam.AirOfOriginal(steam.Celsius(l.thermo), steam.Absolute(g.True(l.needle))+air.Nominal)
		if err != nil {
			left = worst
		}
		why.add(AirSuspected, one(l.thermo), one(float64(bounds[at].Nominal)), short(math.Round(left*100)))
	case unsure >= 0:
		why.add(AirUnsure, one(looks[unsure].thermo), one(float64(bounds[unsure].Nominal)))
	}
	if odd >= 0 {
		why.add(ThermometerOdd, one(looks[odd].thermo))
	}
}
