package screens

import (
	"math"

	"mvuke/steam"
)

// parseMilli reads a typed number as thousandths.
func parseMilli(text string) (int64, error) {
	v, err := steam.Number(text)
	if err != nil {
		return 0, err
	}
	return int64(math.Floor(v*1000 + 1e-6)), nil
}
