package screens

import (
	"mvuke/model"
	"mvuke/steam"
)

// parseMilli reads a typed number as thousandths.
func parseMilli(text string) (int64, error) {
	v, err := steam.Number(text)
	if err != nil {
		return 0, err
	}
	return model.MilliDown(v), nil
}
