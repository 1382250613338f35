package lethality_test

import (
	"fmt"

	"mvuke/steam/lethality"
)

// Readings every five minutes, each good for at least 119.3 degC, are worth less than a line drawn through them.
func ExampleGuaranteed() {
	var rs []lethality.Reading
	for m := 0.0; m <= 30; m += 5 {
		rs = append(rs, lethality.Reading{Minute: m, Low: 119.3})
	}
	lim := lethality.Limits{Cool: 1, Heat: 3}
	plain := lethality.PlainCredit(lethality.ReferenceF0)
	fmt.Printf("%.1f minutes at 121.1 degC for certain, %.1f by the line\n", lethality.Guaranteed(rs, lim, plain), 30*lethality.Plain(119.3, lethality.ReferenceF0))
	// Output: 13.3 minutes at 121.1 degC for certain, 19.8 by the line
}
