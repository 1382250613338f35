package home

import (
	"crypto/ed25519"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/tyler-smith/go-bip39"
)

// A key on paper is 24 words of the English list of BIP 39, an open standard: the last one checks the others.

// WordsOfKey are the words of a key that lies in the folder.
func WordsOfKey(f FS, dir, name string) ([]string, error) {
	k, err := LoadKey(f, dir, name)
	if err != nil {
		return nil, err
	}
	text, err := bip39.NewMnemonic(k.Seed())
	return strings.Fields(text), err
}

// ErrWords says that words are not those of a key: one was misread, or they are not in their order.
var ErrWords = errors.New("home: these are not the words of a key")

// ErrOtherKey says that another key lies in the folder already.
var ErrOtherKey = errors.New("home: another key is here")

// KeyFromWords puts a key back from its words. One that is there is never written over.
func KeyFromWords(f FS, dir, name, text string) error {
	seed, err := seedOf(text)
	if err != nil {
		return err
	}
	have, err := LoadKey(f, dir, name)
	switch {
	case err == nil && string(have.Seed()) == string(seed):
		return nil
	case err == nil:
		return ErrOtherKey
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if err := f.MkdirAll(filepath.Join(dir, "keys"), 0o700); err != nil {
		return err
	}
	return replace(f, keyPath(dir, name), []byte(hex.EncodeToString(seed)+"\n"), 0o600)
}

// seedOf reads words, with or without the numbers before them.
func seedOf(text string) ([]byte, error) {
	var words []string
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if strings.Trim(w, "0123456789.)") != "" {
			words = append(words, w)
		}
	}
	seed, err := bip39.EntropyFromMnemonic(strings.Join(words, " "))
	if err != nil || len(seed) != 32 {
		return nil, errors.Join(ErrWords, err)
	}
	return seed, nil
}

// KeyOfWords is the public key that words stand for.
func KeyOfWords(text string) (ed25519.PublicKey, error) {
	seed, err := seedOf(text)
	if err != nil {
		return nil, err
	}
	return ed25519.NewKeyFromSeed(seed).Public().(ed25519.PublicKey), nil
}
