package work

import (
	"encoding/json"
	"path/filepath"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/exchange"
	"mvuke/sync/stick"
)

// Joining a district. The clinic asks with a file; the office takes it in and answers with a bundle; both screens show six words, and where somebody compared them the office
// speaks for the clinic. Nothing that was written before is signed anew.

// askedFile remembers what we asked last.
func askedFile(dir string) string { return filepath.Join(dir, "keys", "asked.json") }

type asked struct {
	Hash []byte `json:"hash"`
}

// Asked is the hash of what we asked last; ok is false where we asked nothing.
func (c carrier) Asked() (hash [32]byte, ok bool) {
	b, err := c.d.fs.ReadFile(askedFile(c.d.Dir))
	var a asked
	if err != nil || json.Unmarshal(b, &a) != nil || len(a.Hash) != len(hash) {
		return hash, false
	}
	return [32]byte(a.Hash), true
}

// Ask writes the file with which this clinic asks to join a district, onto a stick.
func (d *Desk) Ask(dir string) (file string, err error) {
	if d.Practice {
		return "", refuse("gate.practice")
	}
	if err := d.mayManage(); err != nil {
		return "", err
	}
	root, err := d.rootKey()
	if err != nil {
		return "", err
	}
	p, err := d.Place()
	if err != nil {
		return "", err
	}
	if office, err := d.Office(); err != nil {
		return "", err
	} else if office {
		return "", refuse("office-joins")
	}
	if j, err := d.Joined(); err != nil {
		return "", err
	} else if j.Unproven { // other words would be shown, and look like somebody in between
		return "", refuse("already-joined", j.District)
	}
	b, err := d.toldBox()
	if err != nil {
		return "", err
	}
	a := exchange.Ask{Made: d.Clock.Now().Wall.UnixMilli(), Site: p.ID, Name: p.Site.Name, Box: b.Address()}
	if a.Heads, err = (carrier{d}).Heads(); err != nil {
		return "", d.unread(err)
	}
	if _, err := d.rnd.Read(a.Nonce[:]); err != nil {
		return "", err
	}
	var line []entry.Verified
	if err := d.read(func(src register.Source) { line = src.Roster().Successions(d.Store.District()) }); err != nil {
		return "", err
	}
	f, a, err := exchange.WriteAsk(a, root, line...)
	if err != nil {
		return "", err
	}
	kept, err := json.Marshal(asked{a.Hash[:]})
	if err != nil {
		return "", err
	}
	if err := home.Replace(d.fs, askedFile(d.Dir), kept, 0o600); err != nil {
		return "", wrap(err, "not-saved")
	}
	return f.Name, troubled(stick.Write(d.stick, dir, f.Name, f.Data, nil))
}

// Invitation is the answer of an office to what we asked.
type Invitation = exchange.Invitation

// Accept takes a district for ours. compared: the six words were compared with the other screen's, and were alike; where they were not, nothing goes out and no word of the
// office counts until somebody compares them.
func (d *Desk) Accept(inv *exchange.Invitation, compared bool) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	root, err := d.rootKey()
	if err != nil {
		return err
	}
	id := inv.Joined.ID()
	_, err = d.signBy(root, entry.Draft{Kind: model.KindAccepted, Payload: model.Accepted{District: inv.District[:], Joined: id[:], Compared: compared}})
	return err
}

// JoinState is how our site stands to a district.
type JoinState struct {
	Head     bool // it is a district of its own: nobody was asked, or nobody answered
	Unproven bool // the words were not compared
	District string
	Words    string // to compare now, where they were not
}

// Joined says how our site stands to a district.
func (d *Desk) Joined() (j JoinState, err error) {
	founded, err := d.Store.ByKind(model.KindFounding)
	if err != nil {
		return j, d.unread(err)
	}
	hash, known := (carrier{d}).Asked()
	err = d.read(func(src register.Source) {
		r := src.Roster()
		s, _ := r.Site(d.ownSite(r))
		j.Head, j.Unproven = r.Head == r.District, s.Unproven
		for _, v := range founded {
			var f model.Founding
			if v.Body().District == r.Head && entry.DistrictOf(v.Sealed().Key) == r.Head && v.Body().Decode(&f) == nil {
				j.District = f.Name
			}
		}
		if j.Unproven && known {
			j.Words = exchange.Phrase(hash, r.Head, s.Joined)
		}
	})
	return j, err
}

// ProveHere says that the words were compared at the clinic after all.
func (d *Desk) ProveHere() error {
	if err := d.mayManage(); err != nil {
		return err
	}
	root, err := d.rootKey()
	if err != nil {
		return err
	}
	a := model.Accepted{Compared: true}
	err = d.read(func(src register.Source) {
		r := src.Roster()
		s, _ := r.Site(d.ownSite(r))
		if s.Unproven {
			a.District, a.Joined = r.Head[:], s.Joined[:]
		}
	})
	if err != nil {
		return err
	}
	if a.Joined == nil {
		return refuse("nothing-to-clear")
	}
	_, err = d.signBy(root, entry.Draft{Kind: model.KindAccepted, Payload: a})
	return err
}
