package pot

import (
	"math"

	"mvuke/steam"
)

// Now is a cycle on the fire, as far as advice asks. Minutes count from its beginning; NaN: not yet.
type Now struct {
	Minute                         float64
	Ambient                        steam.Absolute
	Lit, VentStart, VentEnd, Drawn float64
	SteamOut, Zero, Opened         float64
	Looks                          []Seen
	Line, Mark, Limit              steam.Celsius // temperatures at restart line, mark and limit; Limit 0: not known
	Minutes, Vent                  float64       // planned
	Held                           float64       // of the hold that runs
	Water                          float64       // kg at the start
	Vented                         float64       // min that the air valve was open with steam, all vents together
	Died                           float64       // minute at which the fire was last said to be low; NaN: never
	Tamed, Fed                     float64       // minute of the last closing of the draught, of the last wood; NaN: never
	Under                          bool          // the lid was opened before zero
	Blows                          float64       // minute at which the safety valve was first said to blow; NaN: never
	Ask                            float64       // min between looks
	Eye                            float64       // K that half a line of the dial is worth near the mark; less is no movement
}

// Code says what is advised; the catalogue has the sentence.
type Code string

// The advice. Arguments are minutes unless said.
const (
	SteamIn       Code = "steam-in"       // steam in about so many minutes
	VentLonger    Code = "vent-longer"    // at this fire the vent needs so many minutes more
	ToMark        Code = "to-mark"        // minutes to the mark
	EarlyRise     Code = "early-rise"     // minutes taken, least that this fire can take: air
	OverLimit     Code = "over-limit"     // above the pot's limit: draw the fire
	LookNow       Code = "look-now"       // minutes since anybody looked
	TameNow       Code = "tame-now"       // heat keeps coming: close the draught now
	TameIn        Code = "tame-in"        // close the draught in so many minutes
	FeedNow       Code = "feed-now"       // minutes to the restart line
	ToLine        Code = "to-line"        // falls; minutes to the restart line
	HoldsWell     Code = "holds-well"     // neither feed nor close
	WaterMinutes  Code = "water-minutes"  // water lasts for at least so many minutes, at the most that can be used
	WaterShort    Code = "water-short"    // not enough for a vent and a hold from the beginning
	ExhaustIn     Code = "exhaust-in"     // zero in about so many minutes
	DoNotOpen     Code = "do-not-open"    // minutes taken, usual: slower than this pot's own history
	DryLikely     Code = "dry-likely"     // likely dry
	DryBorderline Code = "dry-borderline" // minutes more
	DryWet        Code = "dry-wet"        // minutes more
)

// Advice is one thing to do or to expect. It advises: the needle, the clock and the person decide.
type Advice struct {
	Code   Code
	Args   []float64
	Urgent bool
	Own    bool // from this pot's own cycles; false: from a typical pot of 40 litres
}

// Advise says what helps now, what is urgent first. k may be empty.
func Advise(n Now, k Known) []Advice {
	a := adviser{Now: n, k: k, b: Typical(n.Ambient)}
	if boil, err := steam.Tsat(n.Ambient); err == nil {
		a.boil = boil
	} else {
		return nil
	}
	switch {
	case !math.IsNaN(n.Opened):
		if !math.IsNaN(n.Zero) && n.Zero <= n.Opened && !n.Under {
			a.drying()
		}
	case !math.IsNaN(n.SteamOut):
		if math.IsNaN(n.Zero) {
			a.exhausting()
		}
	case !math.IsNaN(n.Drawn):
	case !math.IsNaN(n.VentEnd):
		a.water()
		a.minding() // what is urgent here stands before the water
	case !math.IsNaN(n.VentStart):
		a.venting()
	case !math.IsNaN(n.Lit):
		a.heating()
	}
	return a.out
}

// longestSaid is the longest time, min, that advice speaks of.
const longestSaid = 999

type adviser struct {
	Now
	k    Known
	b    Body
	boil steam.Celsius
	out  []Advice
}

func (a *adviser) say(code Code, urgent, own bool, args ...float64) {
	for i, v := range args {
		if math.IsNaN(v) || v < 0 || v > longestSaid {
			if !urgent {
				return // a figure that cannot be helps nobody
			}
			args[i] = longestSaid
		}
	}
	x := Advice{code, args, urgent, own}
	if urgent {
		a.out = append([]Advice{x}, a.out...)
		return
	}
	a.out = append(a.out, x)
}

// lag is how long heat keeps coming, s.
func (a *adviser) lag() (float64, bool) {
	if a.k.Lag.Known() {
		return a.k.Lag.Mid, true
	}
	return a.b.FireLag, false
}

// heating: how long until steam, from what this pot's fires used to give.
func (a *adviser) heating() {
	if !a.k.Warm.Known() {
		return
	}
	s, err := Warmup(a.k.Warm.Mid, a.b.Loss, a.b.Around, typicalCapacity(a.Water, 60), 25, a.boil)
	if left := s/60 - (a.Minute - a.Lit); err == nil && left > 1 {
		a.say(SteamIn, false, true, left)
	}
}

// packsLonger is how much longer than the free space packs are vented (an estimate, no source).
const packsLonger = 2

// venting: a weak fire, told by the time that the pot took to boil, must vent longer than the rule.
func (a *adviser) venting() {
	t := Told{Ambient: a.Ambient, Water: a.Water, Lit: a.Lit, VentStart: a.VentStart}
	fire := t.warming()
	if math.IsNaN(fire) {
		return
	}
	rate, err := SteamRate(fire*(1-CapacitySpread), a.b.Loss, a.b.Around, a.boil)
	if err != nil || rate <= 0 {
		a.say(VentLonger, true, false, a.Vent)
		return
	}
	s, err := Purge(rate, a.b.Volume, a.boil, steam.AirLeft)
	if err != nil {
		return
	}
	need := packsLonger * s / 60
	if gone := a.Minute - a.VentStart; need > a.Vent && need > gone {
		a.say(VentLonger, gone >= a.Vent, false, need-gone)
	}
}
