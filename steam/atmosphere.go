package steam

import "math"

// The standard atmosphere, ISO 2533:1975 (the same figures in ICAO Doc 7488 and
// the US Standard Atmosphere 1976), troposphere.
const (
	seaLevel       = 101325.0  // Pa
	baseKelvin     = 288.15    // K at sea level
	lapse          = 0.0065    // K/m
	columnExponent = 5.2558798 // g0/(R L) = 9.80665/(287.05287 x 0.0065)

	coldBase = 268.15 // K: a column 20 K colder than standard
	warmBase = 303.15 // K: a column 15 K warmer

	lowestHeight, highestHeight = -430, 6000
)

// Standard is the pressure of the standard atmosphere at h, -430 to 6000 m
// (geopotential; geometric height differs by 1.6 m at 3200 m, which is ignored).
// Check: 2000 m -> 79.495 kPa.
func Standard(h Metres) (Absolute, error) {
	if err := within("altitude", float64(h), lowestHeight, highestHeight, "m"); err != nil {
		return 0, err
	}
	return column(h, baseKelvin), nil
}

// Geopotential turns a geometric height into the one that Standard takes.
func Geopotential(z Metres) Metres { return 6356766 * z / (6356766 + z) }

// HeightOf is the height at which the standard atmosphere has pressure p.
func HeightOf(p Absolute) Metres {
	return Metres(baseKelvin / lapse * (1 - math.Pow(float64(p)/seaLevel, 1/columnExponent)))
}

func column(h Metres, base float64) Absolute {
	return Absolute(seaLevel * math.Pow(1-lapse*float64(h)/base, columnExponent))
}

// Ambient is the pressure around the pot: what is taken as true, and the least
// and most that it can be.
type Ambient struct {
	Nominal, Low, High Absolute

	Altitude Over // allowance for the height not being known exactly, in Low
	Weather  Over // allowance for the weather, in Low
	Column   Over // allowance for cold air below the site, in Low; not part of the mark
}

// Site is what is known of the air at a place.
type Site struct {
	Height         Metres
	Within         Metres   // how far the height may be off: 50 m from a map, 20 m surveyed
	Weather        float64  // share by which the weather moves the pressure: 0.015 in the tropics
	Barometer      Absolute // station pressure measured now; 0: none
	BarometerLimit Absolute // how far the barometer may be off
}

// Defaults for a site: a height read off a map, weather of the tropics
// (the usual spread of sea-level pressure; no single source).
const (
	MapWithin      Metres   = 50
	SurveyWithin   Metres   = 20
	TropicsWeather          = 0.015
	OutsideWeather          = 0.03
	BarometerLimit Absolute = 300 // Pa; a simple aneroid, common practice, no source
)

// Air bounds the ambient pressure. With a barometer only its own limit counts; it
// must agree with the height within 3 % (more than the weather does but in a
// cyclone), or it is a sea-level figure from a forecast, which no gauge feels.
func (s Site) Air() (Ambient, error) {
	nominal, err := Standard(s.Height)
	if err != nil {
		return Ambient{}, err
	}
	if s.Barometer != 0 {
		low, high := float64(nominal)*0.97, float64(nominal)*1.03
		if err := within("barometer", float64(s.Barometer), low, high, "Pa at this altitude (a forecast gives the pressure reduced to sea level)"); err != nil {
			return Ambient{}, err
		}
		return Ambient{Nominal: s.Barometer, Low: s.Barometer - s.BarometerLimit, High: s.Barometer + s.BarometerLimit,
			Altitude: Over(s.BarometerLimit)}, nil
	}
	if err := within("altitude uncertainty", float64(s.Within), 0, 500, "m"); err != nil {
		return Ambient{}, err
	}
	if err := within("weather allowance", s.Weather, 0, 0.1, "(share)"); err != nil {
		return Ambient{}, err
	}
	up, down := s.Height+s.Within, s.Height-s.Within
	cold := min(column(up, coldBase), column(up, baseKelvin)) // below sea level a cold column weighs more
	warm := max(column(down, warmBase), column(down, baseKelvin))
	return Ambient{
		Nominal:  nominal,
		Low:      cold * Absolute(1-s.Weather),
		High:     warm * Absolute(1+s.Weather),
		Altitude: Over(nominal - column(up, baseKelvin)),
		Weather:  Over(float64(nominal) * s.Weather),
		Column:   Over(column(up, baseKelvin) - cold),
	}, nil
}

// BoilingPoint is the temperature at which water boils in the open pot at h.
func BoilingPoint(h Metres) (Celsius, error) {
	p, err := Standard(h)
	if err != nil {
		return 0, err
	}
	return Tsat(p)
}

// FromBoiling gives the ambient pressure and the standard height from the temperature of
// gently boiling clean water in the open pot. A thermometer good to 0.5 K tells the
// height to about 150 m: a check of plausibility, not the best source.
func FromBoiling(t Celsius) (Absolute, Metres, error) {
	if err := within("boiling point", float64(t), 80, 101.5, "degC"); err != nil {
		return 0, 0, err
	}
	p := psat(t)
	return p, HeightOf(p), nil
}
