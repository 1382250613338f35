package pot

import (
	"math"

	"mvuke/steam"
)

// water: what is left for certain, as minutes of the fiercest use.
func (a *adviser) water() {
	fire := 2.5 * a.b.Loss * 100 // a strong fire, where nothing is known
	own := a.k.Warm.Known()
	if own {
		fire = max(a.k.Warm.High, a.k.Rise.High)
	}
	vented := 0.0
	if !math.IsNaN(a.VentStart) {
		vented = a.VentEnd - a.VentStart + 3 // and what left before the steam was steady
	}
	u := Use{Boiling: vented * 60, Fire: fire * (1 + CapacitySpread), Loss: a.b.Loss * 0.7, Around: a.b.Around, Boil: a.boil, Set: a.Mark,
		Exhausts: 1, Condensed: 0.35, Free: a.b.Volume, Capacity: typicalCapacity(a.Water, 110)}
	left, err := WaterLeft(a.Water, u)
	if err != nil {
		return
	}
	rate, err := SteamRate(u.Fire, u.Loss, u.Around, u.Set)
	if err != nil || rate <= 0 {
		return
	}
	left -= driest
	lasts, rest := max(0, left/rate/60), max(0, a.Minutes-a.Held)
	a.say(WaterMinutes, lasts < min(rest, 10), own, lasts)
	if n := len(a.Looks); n == 0 || a.Looks[n-1].T >= a.Line {
		return // nothing is to be begun again
	}
	again := u
	again.Boiling += a.Vent * 60
	again.Exhausts++
	if rest, err := WaterLeft(a.Water, again); err == nil && rest < driest {
		a.say(WaterShort, false, own)
	}
}

// exhausting: slower than this pot's own history means a valve that is blocked.
func (a *adviser) exhausting() {
	gone := a.Minute - a.SteamOut
	if !a.k.Exhaust.Known() {
		if gone > 2*6 { // minutes; five to six are usual for 40 litres (common practice, no source)
			a.say(DoNotOpen, true, false, gone, 6)
		}
		return
	}
	if gone > a.k.Exhaust.High*clearly {
		a.say(DoNotOpen, true, true, gone, a.k.Exhaust.Mid)
	} else if left := a.k.Exhaust.Mid - gone; left > 0.5 {
		a.say(ExhaustIn, false, true, left)
	}
}

// gentle is the heat of embers that reaches the cloth while it dries, W (an estimate, no source).
const gentle = 100

// drying: a guess at cloth, from the heat that is left in it and the minutes with the lid ajar.
func (a *adviser) drying() {
	loss, own := a.b.Loss, a.k.Loss.Known()
	if own {
		loss = a.k.Loss.Mid
	}
	gone := (a.Minute - a.Opened) * 60
	end := a.b.Around + (a.boil-a.b.Around)*steam.Celsius(math.Exp(-gone*loss/(a.b.Metal+a.b.Packs.Heat)))
	d, err := Dry(Stuff{2, HeatCotton, false}, Stuff{8, HeatSteel, true}, 25, a.Mark, a.boil, max(end, 40), gentle, gone)
	if err != nil {
		return
	}
	switch d.Said {
	case LikelyDry:
		a.say(DryLikely, false, own)
	case Borderline:
		a.say(DryBorderline, false, own, d.Extra/60)
	default:
		a.say(DryWet, false, own, d.Extra/60)
	}
}
