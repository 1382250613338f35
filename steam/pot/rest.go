package pot

import (
	"math"

	"mvuke/steam"
)

// fed is how much stronger a fire may have been made since the pot boiled.
const fed = 1.3

// fierce is a fire as strong as is counted with where none can be bounded better, W.
const fierce = 3000

// water: what is left for certain, as minutes of the fiercest use from now on. What may have blown off since the valve was shut is
// taken off: between two looks of which one stood near the limit the safety valve may have been blowing all the time.
func (a *adviser) water() {
	own := a.k.Warm.Known()
	fire := (Told{Ambient: a.Ambient, Water: a.Water, Lit: a.Lit, VentStart: a.VentStart}).warming() // today's, by how soon it boiled
	switch {
	case math.IsNaN(fire) && own:
		fire = a.k.Warm.High
	case math.IsNaN(fire):
		fire = fierce
	case own:
		fire = max(fire, a.k.Warm.Mid)
	}
	fire *= 1 + CapacitySpread
	u := Use{Boiling: (max(a.Vented, a.VentEnd-a.VentStart) + 3) * 60, Fire: fire, Loss: a.b.Loss * 0.7, Around: a.b.Around,
		Boil: a.boil, Set: a.Mark, Exhausts: 1, Condensed: 0.35, Free: a.b.Volume, Capacity: typicalCapacity(a.Water, 110), Blowing: a.blown() * 60}
	left, err := WaterLeft(a.Water, u)
	if err != nil {
		return
	}
	rate, err := SteamRate(u.Fire*fed, u.Loss, u.Around, u.Set)
	if err != nil || rate <= 0 {
		return
	}
	left -= driest
	lasts, rest := max(0, left/rate/60), max(0, a.Minutes-a.Held)
	a.say(WaterMinutes, lasts < 5 || (u.Blowing > 0 && lasts < rest), own, lasts)
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

// blown is how long the safety valve may have blown since the air valve was shut, min.
func (a *adviser) blown() (minutes float64) {
	near := a.Limit - steam.Celsius(max(a.Eye, 0.5))
	if a.Limit == 0 {
		near = a.Mark + 2
	}
	before, high := a.VentEnd, false
	for _, l := range (Told{Looks: a.Looks}).between(a.VentEnd, a.Minute) {
		now := l.T >= near
		if now || high {
			minutes += l.Minute - before
		}
		before, high = l.Minute, now
	}
	if high {
		minutes += a.Minute - before
	}
	if a.Blows >= a.VentEnd { // heard: until somebody says otherwise it goes on
		minutes = max(minutes, a.Minute-a.Blows)
	}
	return minutes
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
	if gone > max(a.k.Exhaust.most(), a.k.Exhaust.Mid+1)*1.2 {
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
