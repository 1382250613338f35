package exchange

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/base32"
	"encoding/binary"
	"errors"
	"strings"

	"github.com/tyler-smith/go-bip39/wordlists"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
)

// Ask is what a clinic asks with to be taken into a district: who it is, by its root. It is not secret. See FORMAT.md, "Asking to join".
type Ask struct {
	Format uint64         `cbor:"1,keyasint"`
	Root   []byte         `cbor:"2,keyasint"` // public key of its root
	Site   model.ID       `cbor:"3,keyasint"`
	Name   string         `cbor:"4,keyasint"`
	Box    string         `cbor:"5,keyasint"` // to which the answer is locked
	Heads  []bundle.Head  `cbor:"6,keyasint"`
	Nonce  [16]byte       `cbor:"7,keyasint"`
	Made   int64          `cbor:"8,keyasint"`           // by the clinic's clock; wall, ms
	Line   []entry.Sealed `cbor:"9,keyasint,omitempty"` // the words by which the root that asks came after others; none where it is the first. Format 2
	Raw    []byte         `cbor:"-"`
	Hash   [32]byte       `cbor:"-"` // of Raw: what the answer names
}

var askMagic = []byte{0x89, 'M', 'V', 'J', 0x0d, 0x0a, 0x1a, 0x0a}

// AskMagic is how every such file begins.
func AskMagic() []byte { return bytes.Clone(askMagic) }

// MostAsk is the size of the largest.
const MostAsk = 64 << 10

// Limits of a name.
const mostName = 120

// District is the district of the root that asks: of its first root, where others came after it.
func (a Ask) District() entry.District {
	for _, x := range a.Line {
		if v, err := entry.Verify(x); err == nil {
			return v.Body().District
		}
	}
	return entry.DistrictOf(a.Root)
}

// ofItsRoot says whether the key that asks speaks for the district that it asks for.
func (a Ask) ofItsRoot() bool {
	var line []entry.Verified
	for _, x := range a.Line {
		v, err := entry.Verify(x)
		if err != nil || v.Body().District != a.District() {
			return false
		}
		line = append(line, v)
	}
	return len(a.Root) == ed25519.PublicKeySize && trust.Build(a.District(), line).RootKey(a.District(), a.Root)
}

// WriteAsk signs one by the root, and gives the file. line are the words by which the root came after others.
func WriteAsk(a Ask, root ed25519.PrivateKey, line ...entry.Verified) (f File, made Ask, err error) {
	a.Format, a.Root = 1, root.Public().(ed25519.PublicKey)
	for _, v := range line {
		a.Format, a.Line = 2, append(a.Line, v.Sealed())
	}
	if a.Raw, err = bundle.Encode(a); err != nil {
		return f, a, err
	}
	a.Hash = sha256.Sum256(a.Raw)
	out := append(bytes.Clone(askMagic), binary.BigEndian.AppendUint32(nil, uint32(len(a.Raw)))...)
	out = append(append(out, a.Raw...), ed25519.Sign(root, append([]byte("mvuke ask 1"), a.Raw...))...)
	sum := sha256.Sum256(out)
	f = File{"MVJ" + base32.StdEncoding.EncodeToString(sum[:5]) + ".MVJ", append(out, sum[:]...)}
	_, err = ReadAsk(f.Data) // what was made is looked at before it leaves
	return f, a, err
}

// ReadAsk reads one; whatever is wrong with it, it is not believed.
func ReadAsk(file []byte) (a Ask, err error) {
	bad := func(why string) (Ask, error) {
		return Ask{}, &bundle.Fault{Code: bundle.Malformed, Cause: errors.New(why)}
	}
	const head = 12
	switch {
	case len(file) > MostAsk:
		return bad("too long")
	case len(file) < head+ed25519.SignatureSize+sha256.Size || !bytes.HasPrefix(file, askMagic):
		return Ask{}, &bundle.Fault{Code: bundle.Incomplete, Cause: errors.New("cut off")}
	}
	n := int(binary.BigEndian.Uint32(file[8:head]))
	if n != len(file)-head-ed25519.SignatureSize-sha256.Size {
		return Ask{}, &bundle.Fault{Code: bundle.Incomplete, Cause: errors.New("cut off")}
	}
	end := head + n + ed25519.SignatureSize
	if sum := sha256.Sum256(file[:end]); !bytes.Equal(sum[:], file[end:]) {
		return Ask{}, &bundle.Fault{Code: bundle.Damaged, Cause: errors.New("altered")}
	}
	a.Raw = bytes.Clone(file[head : head+n])
	if err := bundle.Decode(a.Raw, &a); err != nil {
		return bad(err.Error())
	}
	if a.Format != 1 && a.Format != 2 {
		return Ask{}, &bundle.Fault{Code: bundle.Newer}
	}
	if len(a.Root) != ed25519.PublicKeySize || !ed25519.Verify(a.Root, append([]byte("mvuke ask 1"), a.Raw...), file[head+n:end]) {
		return bad("not signed by its root")
	}
	if !a.ofItsRoot() || (a.Format == 2) != (len(a.Line) > 0) {
		return bad("not by a key of its root")
	}
	if len(a.Name) > mostName || a.Site.IsZero() || len(Addresses([]string{a.Box})) == 0 || len(a.Heads) > 4096 {
		return bad("a part of it cannot be")
	}
	a.Hash = sha256.Sum256(a.Raw)
	return a, nil
}

// PhraseWords is how many words are compared: 66 bits, so that nobody can make another joining with the same words in reasonable time.
const PhraseWords = 6

// Phrase are the words that both screens show of one joining: they bind what was asked, the district's root and the entry that took the clinic in. The list is that of
// BIP 39 (English), an open standard.
func Phrase(ask [32]byte, district entry.District, joined entry.ID) string {
	h := sha256.New()
	h.Write([]byte("mvuke words 1"))
	h.Write(ask[:])
	h.Write(district[:])
	h.Write(joined[:])
	sum := h.Sum(nil)
	var words []string
	for i := range PhraseWords { // eleven bits each
		v := 0
		for bit := i * 11; bit < i*11+11; bit++ {
			v = v<<1 | int(sum[bit/8]>>(7-bit%8)&1)
		}
		words = append(words, wordlists.English[v])
	}
	return strings.Join(words, " ")
}

// Invitation is a file that takes us into a district: who takes us in, and the words to compare.
type Invitation struct {
	District entry.District
	Name     string // of the district, by its root
	Joined   entry.Verified
	Words    string
	Grants   []entry.Verified
}

// Asked is for a register that has asked to join: the hash of what it asked last, and the site and root that it asked for.
type Asked interface {
	Asked() (hash [32]byte, ok bool)
}

// invited looks whether a foreign file is the answer to what we asked: an entry of its district that takes in our root, names what we asked, and is by its root or by a device
// that its root's office certified; nil where it is not.
func invited(log Log, m bundle.Manifest, grants []entry.Verified) *Invitation {
	a, ok := log.(Asked)
	if !ok {
		return nil
	}
	hash, ok := a.Asked()
	if !ok {
		return nil
	}
	own := log.District()
	theirs := trust.Build(m.District, grants)
	for _, v := range grants {
		var j model.Joined
		if v.Body().Kind != model.KindJoined || v.Body().District != m.District || v.Body().Decode(&j) != nil || !bytes.Equal(j.Root, own[:]) || !bytes.Equal(j.Request, hash[:]) {
			continue
		}
		if s, ok := theirs.Site(j.Site); ok && s.Office {
			continue
		}
		if !theirs.Allows(v) {
			continue
		}
		if _, ok := theirs.DeviceOf(m.Sender, m.District); !ok {
			continue
		}
		inv := &Invitation{District: m.District, Joined: v, Words: Phrase(hash, m.District, v.ID()), Grants: grants}
		for _, f := range grants {
			var x model.Founding
			if f.Body().Kind == model.KindFounding && f.Body().District == m.District && entry.DistrictOf(f.Sealed().Key) == m.District && f.Body().Decode(&x) == nil {
				inv.Name = x.Name
			}
		}
		return inv
	}
	return nil
}
