package entry

import (
	"bytes"
	"crypto/ed25519"
	"os"
	"testing"
	"time"

	"mvuke/model"
)

func author(seed byte) *Author {
	key := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, 32))
	return NewAuthor(key, DistrictOf(key.Public().(ed25519.PublicKey)))
}

func sample(t testing.TB) Verified {
	v, err := author(1).Sign(Draft{Kind: model.KindStep, Targets: []model.Ref{{Noun: model.NounCycle, ID: model.ID{7}}},
		Payload: model.Step{Code: model.StepLit, At: 1000, Source: model.Live}},
		model.Moment{Wall: time.UnixMilli(1_700_000_000_000)}, model.ClockGood)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSignThenVerify(t *testing.T) {
	v := sample(t)
	w, err := Verify(v.Sealed())
	if err != nil || w.ID() != v.ID() {
		t.Fatalf("%v %v", w.ID(), err)
	}
	var s model.Step
	if err := w.Body().Decode(&s); err != nil || s.Code != model.StepLit {
		t.Fatalf("%+v %v", s, err)
	}
}

func TestEveryFlippedBitIsFound(t *testing.T) {
	s := sample(t).Sealed()
	for i := range len(s.Body) * 8 {
		body := bytes.Clone(s.Body)
		body[i/8] ^= 1 << (i % 8)
		if _, err := Verify(Sealed{body, s.Key, s.Sig}); err == nil {
			t.Fatalf("bit %d of the body flipped and accepted", i)
		}
	}
	for i := range len(s.Sig) * 8 {
		sig := bytes.Clone(s.Sig)
		sig[i/8] ^= 1 << (i % 8)
		if _, err := Verify(Sealed{s.Body, s.Key, sig}); err == nil {
			t.Fatalf("bit %d of the signature flipped and accepted", i)
		}
	}
}

func TestAnotherKeyCannotSpeakForAStream(t *testing.T) {
	s := sample(t).Sealed()
	other := author(2)
	id := ID(hash("mvuke entry 1", s.Body))
	if _, err := Verify(Sealed{s.Body, other.Key(), ed25519.Sign(other.key, signed(id))}); err == nil {
		t.Fatal("accepted")
	}
}

func resign(t *testing.T, raw []byte) error {
	a := author(1)
	id := ID(hash("mvuke entry 1", raw))
	_, err := Verify(Sealed{raw, a.Key(), ed25519.Sign(a.key, signed(id))})
	return err
}

func TestOnlyOneSpelling(t *testing.T) {
	good := sample(t).Sealed().Body
	if err := resign(t, good); err != nil {
		t.Fatal(err)
	}
	if err := resign(t, append(bytes.Clone(good), 0)); err == nil {
		t.Error("a byte after the end was accepted")
	}
	var b Body
	if err := strict.Unmarshal(good, &b); err != nil {
		t.Fatal(err)
	}
	for name, payload := range map[string]string{
		"float":               "\xa1\x01\xfb\x3f\xf0\x00\x00\x00\x00\x00\x00",
		"number spelt long":   "\xa1\x01\x18\x01",
		"not a map":           "\x81\x01",
		"indefinite length":   "\xbf\x01\x02\xff",
		"keys out of order":   "\xa2\x02\x01\x01\x01",
		"tag":                 "\xa1\x01\xc0\x61\x61",
		"nested beyond bound": "\xa1\x01\x81\x81\x81\x81\x81\x81\x81\x81\x81\x01",
	} {
		raw := append(bytes.Clone(good[:len(good)-len(b.Payload)]), payload...) // the payload is the last key
		if err := resign(t, raw); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
	b.Format = 2
	b.Payload, _ = Marshal(model.Step{})
	raw, _ := canonical.Marshal(&b)
	if err := resign(t, raw); err != ErrFormat {
		t.Errorf("a newer format must say so: %v", err)
	}
}

func TestUnknownFieldOfAKindIsAnError(t *testing.T) {
	v := sample(t)
	var less struct {
		Code string `cbor:"1,keyasint"`
	}
	if err := v.Body().Decode(&less); err == nil {
		t.Error("fields were dropped in silence")
	}
}

func TestTooLargeIsRefused(t *testing.T) {
	_, err := author(1).Sign(Draft{Kind: model.KindNote, Payload: map[int]string{1: string(bytes.Repeat([]byte("a"), MaxBytes))}}, model.Moment{}, 0)
	if err == nil {
		t.Error("accepted")
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(sample(f).Sealed().Body)
	f.Fuzz(func(t *testing.T, raw []byte) {
		b, err := decode(raw)
		if err != nil {
			return
		}
		again, err := canonical.Marshal(b)
		if err != nil || !bytes.Equal(again, raw) {
			t.Fatal("read then written is not identical")
		}
	})
}

func TestFuzzSeedsExist(t *testing.T) {
	if d, err := os.ReadDir("testdata/fuzz/FuzzDecode"); err != nil || len(d) == 0 {
		t.Errorf("no seed corpus: %v", err)
	}
}
