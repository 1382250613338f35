package home

import "golang.org/x/crypto/scrypt"

// PINHash is what is kept of a PIN: 32 bytes by scrypt (RFC 7914) over 16 bytes of salt, with 16 MB of memory, which takes a twentieth of
// a second on a laptop. A PIN has few figures: it holds off the curious, not somebody with the file and an afternoon.
func PINHash(salt []byte, pin string) ([]byte, error) {
	return scrypt.Key([]byte(pin), salt, 1<<14, 8, 1, 32)
}
