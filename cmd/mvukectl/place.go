package main

import (
	"fmt"

	"mvuke/model"
	"mvuke/steam"
)

// place are the flags that tell where a pot stands and what dial it has.
type place struct {
	altitude, unit, barometer, item string
	span, class, line, rest         number
}

func (p *place) add(f *flags) {
	f.StringVar(&p.altitude, "altitude", "", "height with its unit: 1800m or 5906ft")
	f.StringVar(&p.unit, "unit", "", "unit of the dial: kPa, bar, MPa, psi, kgf/cm2, inHg")
	f.StringVar(&p.barometer, "barometer", "", "station pressure measured now, with its unit: 81.5kPa")
	f.StringVar(&p.item, "item", "wrapped", "wrapped or unwrapped")
	f.Var(&p.span, "span", "end of the dial, in its unit")
	f.Var(&p.class, "class", "gauge class, % of span (EN 837-1); 0: exact, bare physics; left out: counts as 4")
}

func (p *place) site() (steam.Site, error) {
	if p.altitude == "" {
		return steam.Site{}, wrong("altitude")
	}
	h, err := steam.Altitude(p.altitude)
	if err != nil {
		return steam.Site{}, err
	}
	s := steam.Site{Height: h, Within: steam.MapWithin, Weather: steam.TropicsWeather}
	if p.barometer != "" {
		v, err := steam.Pressure(p.barometer)
		if err != nil {
			return s, err
		}
		s.Barometer, s.BarometerLimit = steam.Absolute(v), steam.BarometerLimit
	}
	_, err = s.Air()
	return s, err
}

func (p *place) dialUnit() (steam.Unit, error) {
	if p.unit == "" {
		return "", wrong("unit")
	}
	return steam.ParseUnit(p.unit)
}

// gauge is the dial, and what had to be assumed of it.
func (p *place) gauge() (g steam.Gauge, assumed []model.Reason, err error) {
	u, err := p.dialUnit()
	if err != nil {
		return g, nil, err
	}
	g = steam.Gauge{Unit: u, Span: p.span.v, Line: p.line.v, Class: -1, Standing: steam.Vouched}
	add := func(code string, args ...string) { assumed = append(assumed, model.Reason{Code: code, Args: args}) }
	if p.class.set {
		if p.class.v < 0 || p.class.v > 10 {
			return g, nil, wrong("class", fmt.Sprint(p.class.v))
		}
		g.Class = p.class.v
	} else {
		add("class-assumed", fmt.Sprint(steam.WorstClass))
	}
	if !p.span.set {
		g.Span = spanFor(u)
		add("span-assumed", fmt.Sprint(g.Span), string(u))
	}
	if !p.line.set {
		g.Line = u.UsualLine()
		add("line-assumed", fmt.Sprint(g.Line), string(u))
	}
	return g, assumed, nil
}

// spanFor is the end of the longest dial usual on these pots (from memory), in round figures.
func spanFor(u steam.Unit) float64 {
	return map[steam.Unit]float64{steam.KPa: 400, steam.Bar: 4, steam.MPa: 0.4, steam.Psi: 60, steam.Kgf: 4, steam.InHg: 120}[u]
}
