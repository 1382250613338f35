package home

import (
	"crypto/rand"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/tyler-smith/go-bip39"
)

func TestAKeyComesBackFromPaper(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	k, err := MakeKey(Disk{}, rand.Reader, dir, SiteKey)
	if err != nil {
		t.Fatal(err)
	}
	words, err := WordsOfKey(Disk{}, dir, SiteKey)
	if err != nil || len(words) != 24 {
		t.Fatal(len(words), err)
	}
	swapped := append([]string{}, words...)
	swapped[2], swapped[3] = swapped[3], swapped[2]
	if err := KeyFromWords(Disk{}, other, SiteKey, strings.Join(swapped, " ")); words[2] != words[3] && !errors.Is(err, ErrWords) { // one order in 256 passes by chance
		if _, again := bip39.EntropyFromMnemonic(strings.Join(swapped, " ")); again != nil {
			t.Errorf("two words changed places: %v", err)
		}
	}
	if err := KeyFromWords(Disk{}, other, SiteKey, strings.Join(words[:23], " ")); !errors.Is(err, ErrWords) {
		t.Errorf("a word is missing: %v", err)
	}
	if err := KeyFromWords(Disk{}, other, RootKey, "  "+strings.ToUpper(strings.Join(words, "\n"))); err != nil {
		t.Fatal(err)
	}
	back, err := LoadKey(Disk{}, other, RootKey)
	if err != nil || !back.Equal(k) {
		t.Error("another key came back", err)
	}
	if _, err := MakeKey(Disk{}, rand.Reader, other, SiteKey); err != nil {
		t.Fatal(err)
	}
	if err := KeyFromWords(Disk{}, other, SiteKey, strings.Join(words, " ")); !errors.Is(err, ErrOtherKey) {
		t.Errorf("a key was written over: %v", err)
	}
	if err := os.WriteFile(keyPath(other, SiteKey), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := KeyFromWords(Disk{}, other, SiteKey, strings.Join(words, " ")); err == nil {
		t.Error("a damaged key was written over")
	}
}

// The words are those of the standard: a row of its test vectors (trezor/python-mnemonic, vectors.json, english: 256 bits of zeros), from memory.
func TestWordsAreOfTheStandard(t *testing.T) {
	text, err := bip39.NewMnemonic(make([]byte, 32))
	if err != nil || text != strings.Repeat("abandon ", 23)+"art" {
		t.Error(text, err)
	}
}
