package exchange

import (
	"bytes"
	"strings"
	"testing"

	"filippo.io/age"
)

// BIP 173 gives this string for the 20 bytes of a public key hash, without its version: here the same spelling is checked by the library that reads it.
func TestBoxOfASiteIsReadByTheLibrary(t *testing.T) {
	a, err := BoxOf(bytes.Repeat([]byte{7}, 32))
	if err != nil {
		t.Fatal(err)
	}
	b, err := BoxOf(bytes.Repeat([]byte{7}, 32))
	if err != nil || a.Address() != b.Address() || !strings.HasPrefix(a.Address(), "age1") {
		t.Errorf("%s %s %v", a.Address(), b.Address(), err)
	}
	if c, _ := BoxOf(bytes.Repeat([]byte{8}, 32)); c.Address() == a.Address() {
		t.Error("two sites share a box")
	}
	back, err := age.ParseX25519Identity(a.Secret())
	if err != nil || back.Recipient().String() != a.Address() {
		t.Error(err)
	}
	if len(Addresses([]string{a.Address(), "rubbish", a.Address()})) != 1 {
		t.Error("addresses")
	}
}
