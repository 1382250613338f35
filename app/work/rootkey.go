package work

import (
	"crypto/ed25519"
	"errors"
	"io/fs"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// The key of our root, and the one that comes after it.

// nextRoot is the name of a key that is to come after the root's, until the register says so.
const nextRoot = "root-next"

// rootKey is the key of our own root, on the device where the register was set up and on those that were begun from its folder. One that was replaced is put right here where the
// power went at the wrong moment, and refused where another device holds the new one.
func (d *Desk) rootKey() (ed25519.PrivateKey, error) {
	here := false
	for _, name := range []string{home.RootKey, nextRoot} {
		key, err := home.LoadKey(d.fs, d.Dir, name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return nil, wrap(err, "damaged-key")
		}
		here = true
		speaks, err := d.speaksAsRoot(key)
		if err != nil {
			return nil, err
		}
		if !speaks {
			continue
		}
		if name == nextRoot {
			if err := home.PutInPlace(d.fs, d.Dir, nextRoot, home.RootKey); err != nil {
				return nil, wrap(err, "not-saved")
			}
		}
		return key, nil
	}
	if !here {
		return nil, refuse("no-root-key")
	}
	return nil, refuse("root-replaced")
}

func (d *Desk) speaksAsRoot(key ed25519.PrivateKey) (yes bool, err error) {
	err = d.read(func(src register.Source) {
		yes = src.Roster().RootKey(d.Store.District(), key.Public().(ed25519.PublicKey))
	})
	return yes, err
}

// ReplaceRoot makes a new key for our root and names it with the old one, for when the old words may have been read by others. What was signed stays as it is. The old words open
// nothing from then on.
func (d *Desk) ReplaceRoot() error {
	if d.Practice {
		return refuse("gate.practice")
	}
	if err := d.mayManage(); err != nil {
		return err
	}
	old, err := d.rootKey()
	if err != nil {
		return err
	}
	key, err := home.MakeKey(d.fs, d.rnd, d.Dir, nextRoot)
	if err != nil {
		return wrap(err, "not-saved")
	}
	pub, district := key.Public().(ed25519.PublicKey), d.Store.District()
	proof := ed25519.Sign(key, model.SuccessionText(district[:], old.Public().(ed25519.PublicKey)))
	if _, err := d.signBy(old, entry.Draft{Kind: model.KindSucceeded, Payload: model.Succeeded{Key: pub, Proof: proof}}); err != nil {
		return err
	}
	_, err = d.rootKey() // puts it in its place
	return err
}
