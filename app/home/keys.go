package home

import (
	"crypto/ed25519"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"mvuke/model"
)

// Key names.
const (
	RootKey   = "root"
	SiteKey   = "site"
	DeviceKey = "device"
)

func keyPath(dir, name string) string { return filepath.Join(dir, "keys", name+".key") }

// LoadKey reads a key; fs.ErrNotExist where there is none.
func LoadKey(f FS, dir, name string) (ed25519.PrivateKey, error) {
	b, err := f.ReadFile(keyPath(dir, name))
	if err != nil {
		return nil, err
	}
	seed, err := hex.DecodeString(strings.TrimSpace(string(b)))
	if err != nil || len(seed) != ed25519.SeedSize {
		return nil, fmt.Errorf("home: key %s is damaged; bring the folder \"keys\" back from a copy", name)
	}
	return ed25519.NewKeyFromSeed(seed), nil
}

// MakeKey makes a key. A key that is there is never written over: it is set aside.
func MakeKey(f FS, rnd model.Random, dir, name string) (ed25519.PrivateKey, error) {
	if err := f.MkdirAll(filepath.Join(dir, "keys"), 0o700); err != nil {
		return nil, err
	}
	seed := make([]byte, ed25519.SeedSize)
	if n, err := rnd.Read(seed); err != nil || n != len(seed) {
		return nil, errors.Join(errors.New("home: no randomness for a key"), err)
	}
	path := keyPath(dir, name)
	if _, err := f.Stat(path); err == nil {
		if err := f.Rename(path, path+"."+hex.EncodeToString(seed[:4])+".old"); err != nil {
			return nil, err
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if err := replace(f, path, []byte(hex.EncodeToString(seed)+"\n"), 0o600); err != nil {
		return nil, err
	}
	return ed25519.NewKeyFromSeed(seed), nil
}

// PutInPlace gives a key the name of another, which is set aside. Cut short, it is done again.
func PutInPlace(f FS, dir, key, name string) error {
	old, err := LoadKey(f, dir, name)
	if err == nil {
		err = f.Rename(keyPath(dir, name), keyPath(dir, name)+"."+hex.EncodeToString(old.Seed()[:4])+".old")
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := f.Rename(keyPath(dir, key), keyPath(dir, name)); err != nil {
		return err
	}
	return f.SyncDir(filepath.Dir(keyPath(dir, name)))
}

// OldStreams are the public keys that this device signed with before: MakeKey sets a key aside, and never writes over it.
func OldStreams(f FS, dir string) (out []ed25519.PublicKey, err error) {
	names, err := filepath.Glob(keyPath(dir, DeviceKey) + ".*.old")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		b, err := f.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if seed, err := hex.DecodeString(strings.TrimSpace(string(b))); err == nil && len(seed) == ed25519.SeedSize {
			out = append(out, ed25519.NewKeyFromSeed(seed).Public().(ed25519.PublicKey))
		}
	}
	return out, nil
}
