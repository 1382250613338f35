package steam

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// BadNumber says that a text is not a number, with what to write instead.
type BadNumber struct {
	Text string
	Why  string
}

func (e *BadNumber) Error() string { return fmt.Sprintf("%q %s", e.Text, e.Why) }

// Number reads a number as people type it: comma or point for the decimals,
// spaces (also narrow and no-break ones) or apostrophes between thousands. Two readings of
// one text ("1,234" could be 1.234 or 1234) are refused only where both a comma and a
// point stand in it; a lone comma or point is always the decimal mark.
func Number(s string) (float64, error) {
	t := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r), r == '\u00a0', r == '\u202f', r == '\u2009', r == '\'', r == '’':
			return -1
		case r == ',' || r == '٫':
			return '.'
		case r == '−':
			return '-'
		}
		return r
	}, s)
	if t == "" {
		return 0, &BadNumber{s, "is empty; write a number"}
	}
	if strings.Count(t, ".") > 1 {
		return 0, &BadNumber{s, "has two decimal marks; write 1234.5 or 1234,5"}
	}
	for i, r := range t {
		if (r < '0' || r > '9') && r != '.' && !(i == 0 && (r == '-' || r == '+')) {
			return 0, &BadNumber{s, "is not a number; write digits only, such as 17.5"}
		}
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, &BadNumber{s, "is not a number; write digits only, such as 17.5"}
	}
	return v, nil
}

// split parts "81.5kPa" into its number and the unit behind it.
func split(s string) (float64, string, error) {
	t := strings.TrimSpace(s)
	i := strings.IndexFunc(t, func(r rune) bool { return unicode.IsLetter(r) || r == '°' })
	if i < 0 {
		v, err := Number(t)
		return v, "", err
	}
	v, err := Number(t[:i])
	return v, strings.TrimSpace(t[i:]), err
}

// FeetToMetres is the international foot, exact.
const FeetToMetres = 0.3048

// Altitude reads "1800m" or "5906ft". A bare number is refused with both
// readings of it, because a foot taken for a metre makes the needle stop too low.
func Altitude(s string) (Metres, error) {
	v, unit, err := split(s)
	if err != nil {
		return 0, fmt.Errorf("altitude: %w", err)
	}
	if thousands.MatchString(strings.TrimSpace(s)) {
		return 0, fmt.Errorf("altitude %q can be read two ways, as %.0f or as %g; write it without the comma or point", s, v*1000, v)
	}
	switch strings.ToLower(unit) {
	case "m", "metres", "meters", "metre", "meter":
		return checkHeight(s, v)
	case "ft", "feet", "foot":
		return checkHeight(s, v*FeetToMetres)
	case "":
		return 0, fmt.Errorf("altitude %q has no unit: as metres it is %.0f m (%.0f ft), as feet it is %.0f m; write %[1]sm or %[1]sft",
			strings.TrimSpace(s), v, v/FeetToMetres, v*FeetToMetres)
	}
	return 0, fmt.Errorf("altitude %q: unit %q is not m or ft", s, unit)
}

// thousands is a figure such as 1,800 or 1.800: one thousand eight hundred to one reader, less than two to another.
var thousands = regexp.MustCompile(`^[+-]?[0-9]{1,2}[.,][0-9]{3}([^0-9]|$)`)

// HighestClinic is the height above which a clinic is taken for a slip of the unit
// (5906 ft typed as metres); the highest towns on earth lie near 5100 m (from memory).
const HighestClinic = 5200

func checkHeight(s string, m float64) (Metres, error) {
	if m > HighestClinic {
		return 0, fmt.Errorf("altitude %q is %.0f m, above the highest clinics; if it was feet, it is %.0f m: write it with ft",
			s, m, m*FeetToMetres)
	}
	if err := within("altitude", m, lowestHeight, HighestClinic, "m"); err != nil {
		return 0, err
	}
	return Metres(m), nil
}

// Pressure reads a pressure with its unit ("81.5kPa", "24.07 inHg") into pascals.
func Pressure(s string) (float64, error) {
	v, unit, err := split(s)
	if err != nil {
		return 0, fmt.Errorf("pressure: %w", err)
	}
	if unit == "" {
		return 0, fmt.Errorf("pressure %q has no unit; write it with one, such as %skPa", s, strings.TrimSpace(s))
	}
	u, err := ParseUnit(unit)
	if err != nil {
		return 0, err
	}
	return v * u.Pascals(), nil
}
