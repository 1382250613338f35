package exchange

import "strings"

// bech32 is the spelling of a key as age reads it (BIP 173; the library that reads it has no writer for bytes of one's own).
func bech32(prefix string, data []byte) string {
	const signs = "qpzry9x8gf2tvdw0s3jn54khce6mua7l"
	var five []byte
	acc, bits := uint32(0), uint(0)
	for _, b := range data {
		acc, bits = acc<<8|uint32(b), bits+8
		for bits >= 5 {
			bits -= 5
			five = append(five, byte(acc>>bits)&31)
		}
	}
	if bits > 0 {
		five = append(five, byte(acc<<(5-bits))&31)
	}
	var check []byte
	for _, c := range []byte(prefix) {
		check = append(check, c>>5)
	}
	check = append(check, 0)
	for _, c := range []byte(prefix) {
		check = append(check, c&31)
	}
	mod := polymod(append(append(check, five...), 0, 0, 0, 0, 0, 0)) ^ 1
	for i := range 6 {
		five = append(five, byte(mod>>(5*(5-i)))&31)
	}
	var out strings.Builder
	out.WriteString(prefix + "1")
	for _, v := range five {
		out.WriteByte(signs[v])
	}
	return out.String()
}

func polymod(values []byte) uint32 {
	chk := uint32(1)
	for _, v := range values {
		top := chk >> 25
		chk = (chk&0x1ffffff)<<5 ^ uint32(v)
		for i, g := range []uint32{0x3b6a57b2, 0x26508e6d, 0x1ea119fa, 0x3d4233dd, 0x2a1462b3} {
			if top>>i&1 == 1 {
				chk ^= g
			}
		}
	}
	return chk
}
