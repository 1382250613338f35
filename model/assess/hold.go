package assess

import (
	"math"

	"mvuke/model"
)

// look is one reading in minutes and in the dial's unit.
type look struct {
	minute   float64
	needle   float64
	lowest   float64 // since the look before, where told
	told     bool    // lowest is told (also by "stayed": then it is the restart line)
	away     bool
	unproven bool    // the time since the look before was not proven by a running clock
	thermo   float64 // degC, 0: none
}

// link is what the time between two looks counts for.
type link int

const (
	broken  link = iota // below the line
	unknown             // cannot be told
	held
)

// between judges the time from a to b.
func between(a, b look, line, limit float64) link {
	switch {
	case a.needle < line || b.needle < line || (b.told && b.lowest < line):
		return broken
	case b.minute-a.minute > limit || b.unproven:
		return unknown
	}
	return held
}

// run is a stretch of looks, by index, and its minutes.
type run struct {
	from, to int
	minutes  float64
}

// longest finds the longest unbroken stretch at or above the line; through is the longest unknown
// link that may have been held (0: none): a look a day later tells nothing of a fire.
func longest(looks []look, line, limit, through float64) run {
	var best run
	start := 0
	for i := 1; i < len(looks); i++ {
		switch l := between(looks[i-1], looks[i], line, limit); {
		case l == held || (l == unknown && looks[i].minute-looks[i-1].minute <= through):
			if m := looks[i].minute - looks[start].minute; m > best.minutes {
				best = run{start, i, m}
			}
		default:
			start = i
		}
	}
	return best
}

// running is the proven hold that lasts to the last look, in minutes.
func (in Input) running(looks []look, line, limit float64) float64 {
	last := len(looks) - 1
	if last < 0 || in.unprovenBetween(looks[last].minute, math.Inf(1)) {
		return 0
	}
	i := last
	for i > 0 && between(looks[i-1], looks[i], line, limit) == held {
		i--
	}
	return looks[last].minute - looks[i].minute
}

// again says whether a hold begins anew in what follows.
func again(looks []look, line, limit float64) bool {
	for i := 1; i < len(looks); i++ {
		if between(looks[i-1], looks[i], line, limit) == held {
			return true
		}
	}
	return false
}

// restarts counts how often a hold that had begun was broken and began anew.
func restarts(looks []look, line, limit float64) (n int, lowest float64) {
	in := false
	for i := 1; i < len(looks); i++ {
		switch between(looks[i-1], looks[i], line, limit) {
		case held:
			in = true
			continue
		case unknown: // nobody saw: told as a gap
			in = false
			continue
		}
		if in && looks[i-1].needle >= line && again(looks[i:], line, limit) {
			n++
			lowest = looks[i].needle
			if looks[i].told {
				lowest = min(lowest, looks[i].lowest)
			}
		}
		in = false
	}
	return n, lowest
}

// unprove marks looks that stand behind an interruption of unknown length.
func (in Input) unprove(looks []look) {
	for i := 1; i < len(looks); i++ {
		looks[i].unproven = looks[i].unproven || in.unprovenBetween(looks[i-1].minute, looks[i].minute)
	}
}

// unprovenBetween says whether the machine was off, for nobody knows how long, between two minutes.
func (in Input) unprovenBetween(from, to float64) bool {
	for _, b := range in.Breaks {
		if begin, end := float64(b.From)/60000, float64(b.To)/60000; b.Unproven && begin < to && (end > from || begin >= from) {
			return true
		}
	}
	return false
}

// looksOf turns stored readings into looks. A claim "stayed" swears that the needle was at
// or above the restart line; "dipped" says to where.
func looksOf(rs []model.Reading, f model.FrozenPlan) []look {
	line := float64(f.RestartMilli) / 1000
	out := make([]look, 0, len(rs))
	for _, r := range rs {
		l := look{minute: float64(r.At) / 60000, needle: float64(r.NeedleMilli) / 1000, unproven: r.Unproven,
			thermo: float64(r.ThermoMilli) / 1000, away: r.Away || r.Answer == model.LookedAway}
		switch r.Answer {
		case model.Stayed:
			l.told, l.lowest = true, min(line, l.needle)
		case model.Dipped:
			l.told, l.lowest = true, min(float64(r.LowestMilli)/1000, l.needle)
		}
		out = append(out, l)
	}
	return out
}
