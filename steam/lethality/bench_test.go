package lethality

import "testing"

func BenchmarkGuaranteed60(b *testing.B) {
	var rs []Reading
	for m := range 60 {
		rs = append(rs, Reading{Minute: float64(m), Low: 120.5, Claimed: true, Claim: 119.8})
	}
	for b.Loop() {
		Guaranteed(rs, DefaultLimits, GuardedCredit)
	}
}
