package exchange

import (
	"crypto/sha256"
	"strings"

	"filippo.io/age"
)

// Box is a key that opens bundles; what is sent to a site is locked to the boxes of its devices.
type Box struct{ id *age.X25519Identity }

// NewBox makes one.
func NewBox() (Box, error) {
	id, err := age.GenerateX25519Identity()
	return Box{id}, err
}

// ParseBox reads one as Secret writes it.
func ParseBox(secret string) (Box, error) {
	id, err := age.ParseX25519Identity(secret)
	return Box{id}, err
}

// BoxOf is the box that belongs to a site's key: whoever holds that key, such as a second device of the clinic or a restored copy, opens what is
// sent to the site. The key cannot be told from the box.
func BoxOf(seed []byte) (Box, error) {
	sum := sha256.Sum256(append([]byte("mvuke box 1"), seed...))
	return ParseBox(strings.ToUpper(bech32("age-secret-key-", sum[:])))
}

// Secret is the key itself, for a file that only its owner reads.
func (b Box) Secret() string { return b.id.String() }

// Address is what others lock to, "age1...".
func (b Box) Address() string { return b.id.Recipient().String() }

// Identity opens.
func (b Box) Identity() age.Identity { return b.id }

// Addresses reads what bundles are locked to; what is not an address is passed over.
func Addresses(list []string) (out []*age.X25519Recipient) {
	seen := map[string]bool{}
	for _, a := range list {
		if r, err := age.ParseX25519Recipient(a); err == nil && !seen[a] {
			seen[a] = true
			out = append(out, r)
		}
	}
	return out
}
