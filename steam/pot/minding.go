package pot

import "math"

// minding: the rise and the hold, from the slope of the last looks. A needle above the limit comes before all else, however
// old the look is and whatever has moved since.
func (a *adviser) minding() {
	ls := Told{Looks: a.Looks}.between(a.VentEnd, a.Minute)
	if len(ls) > 0 && a.Limit > 0 && ls[len(ls)-1].T > a.Limit+0.01 {
		a.say(OverLimit, true, false)
		return
	}
	a.early(ls)
	if len(ls) == 0 {
		a.climbing()
		return
	}
	last := ls[len(ls)-1]
	slope, known := a.slope(ls)
	lag, own := a.lag()
	gone := a.Minute - last.Minute
	if gone > a.Ask+1 {
		a.say(LookNow, gone > 2*a.Ask, false, gone)
		return // an old look says nothing of now
	}
	if !math.IsNaN(a.Died) && a.Died >= last.Minute {
		a.say(FeedNow, true, own, max(0, float64(last.T-a.Line))) // about a kelvin a minute, of a pot without a fire
		return
	}
	if !known {
		return
	}
	seen := float64(last.T) + slope*gone
	runsOn := seen + max(slope, 0)*lag/60
	ahead := seen + slope*(lag/60+a.Ask/2) // what the next look would see, if nothing were done
	top := float64(a.Mark) + 1
	if a.Limit > 0 {
		top = min(top+0.5, float64(a.Limit))
	}
	line, mark := float64(a.Line), float64(a.Mark)
	switch {
	case a.Tamed >= last.Minute && slope > 0 && (a.Limit == 0 || seen < float64(a.Limit)-0.5): // done already: what it does shows at the next look
	case a.Fed >= last.Minute && slope <= 0 && seen >= line:
	case slope > 0 && runsOn >= mark, a.Limit > 0 && seen >= float64(a.Limit)-0.5:
		a.say(TameNow, ahead > top, own)
	case slope > 0 && seen < line && slope < weakRise:
		a.say(FeedNow, false, own, 0)
		a.say(ToMark, false, own, (mark-seen)/slope)
	case slope > 0:
		a.say(ToMark, false, own, (mark-seen)/slope)
		a.say(TameIn, false, own, max(0, (mark-seen)/slope-lag/60))
	case ahead < line:
		a.say(FeedNow, true, own, max(0, (seen-line)/max(-slope, 1e-3)))
	case slope < 0:
		a.say(ToLine, false, own, (seen-line)/-slope)
	case gone <= max(a.Ask/2, 3):
		a.say(HoldsWell, false, own)
	}
}

// weakRise is the rise, K/min, below which the fire is fed before the line is reached (a 2.5 kW fire gives
// 4 K/min to the reference pot).
const weakRise = 1.5

// climbing: nothing was seen yet since the valve was shut.
func (a *adviser) climbing() {
	gone := a.Minute - a.VentEnd
	if gone > 30 {
		a.say(LookNow, true, false, gone)
		return
	}
	if a.k.Climb.Known() {
		if left := a.k.Climb.Mid - gone; left > 0 {
			a.say(ToMark, false, true, left)
		}
		return
	}
	fire := Told{Ambient: a.Ambient, Water: a.Water, Lit: a.Lit, VentStart: a.VentStart}.warming()
	if s, err := Warmup(fire, a.b.Loss, a.b.Around, typicalCapacity(a.Water-0.5, 110), a.boil, a.Mark); err == nil && s/60 > gone {
		a.say(ToMark, false, false, s/60-gone)
	}
}

// early: the needle came up sooner than any fire of this strength can heat the water. Twice the
// strength that boiled it is allowed.
func (a *adviser) early(ls []Seen) {
	for _, l := range ls {
		if l.T < a.Line {
			continue
		}
		fire := 2 * (Told{Ambient: a.Ambient, Water: a.Water, Lit: a.Lit, VentStart: a.VentStart}).warming()
		own := a.k.Rise.Known()
		if own {
			fire = max(fire, 1.5*a.k.Rise.most())
		}
		c := typicalCapacity(max(a.Water-1.2, 0.5), 110) * (1 - CapacitySpread)
		s, err := Warmup(fire, 0, a.b.Around, c, a.boil, a.Line)
		if took := l.Minute - a.VentEnd; err == nil && took*60 < s {
			a.say(EarlyRise, true, own, took, s/60)
		}
		return
	}
}

// slope is how fast the temperature moves, K/min, since the look before the last; where that is less than half a
// line of the dial, since the oldest look within eight minutes; what half a line could hide even then is no movement.
func (a *adviser) slope(ls []Seen) (slope float64, known bool) {
	last := ls[len(ls)-1]
	for i := len(ls) - 2; i >= 0; i-- {
		d := last.Minute - ls[i].Minute
		if d > 8 && known || d > 15 {
			break
		}
		if d < 0.5 {
			continue
		}
		known = true
		if by := float64(last.T - ls[i].T); math.Abs(by) > 1.05*a.Eye {
			return by / d, true
		}
	}
	return 0, known
}
