package model

import "strings"

const checkAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"

// CheckLetter is the check character of ISO/IEC 7064, hybrid system MOD 37,36, over the letters
// and digits of s; anything else in s is passed over. It finds every single wrong character and
// almost every swap of neighbours, so that a line copied by pen can be checked.
func CheckLetter(s string) string {
	const m = 36
	p := m
	for _, r := range strings.ToUpper(s) {
		i := strings.IndexRune(checkAlphabet[:m], r)
		if i < 0 {
			continue
		}
		sum := p%(m+1) + i
		if sum %= m; sum == 0 {
			sum = m
		}
		p = sum * 2
	}
	c := (m + 1 - p%(m+1)) % m
	return checkAlphabet[c : c+1]
}
