package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/exchange"
	"mvuke/sync/stick"
)

// The office's side of a joining: finding who asks, taking a clinic in, and saying that the words were alike.

// Applicant is a clinic that asks to join, by a file on a stick.
type Applicant struct {
	exchange.Ask
	File string
	In   bool   // it was taken in by this very file
	Code string // proposed letters, which no other site has
}

// Applicants finds the files of clinics that ask to join.
func (d *Desk) Applicants(dir string) (out []Applicant, err error) {
	found, err := stick.Find(d.stick, dir, exchange.AskMagic())
	if err != nil {
		return nil, troubled(err)
	}
	for _, f := range found.Files {
		raw, err := stick.Copy(d.stick, f, exchange.MostAsk)
		if err != nil {
			continue // the list of what lies there tells it
		}
		a, err := exchange.ReadAsk(raw)
		if err != nil {
			continue
		}
		if i := slices.IndexFunc(out, func(y Applicant) bool { return y.District() == a.District() }); i >= 0 { // of several the clinic answers to the last
			if out[i].Made >= a.Made {
				continue
			}
			out = slices.Delete(out, i, i+1)
		}
		x := Applicant{Ask: a, File: f.Path}
		joined, _, err := d.joinedBy(a)
		if err != nil {
			return nil, err
		}
		x.In = !joined.IsZero()
		if x.Code, err = d.freeCode(a.Name, a.Site); err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}

// joinedBy is the entry that took a clinic in by what it asked.
func (d *Desk) joinedBy(a exchange.Ask) (v entry.Verified, j model.Joined, err error) {
	vs, err := d.Store.ByKind(model.KindJoined)
	if err != nil {
		return v, j, d.unread(err)
	}
	root := a.District()
	err = d.read(func(src register.Source) {
		for _, w := range vs {
			var x model.Joined
			if w.Body().Decode(&x) == nil && string(x.Request) == string(a.Hash[:]) && string(x.Root) == string(root[:]) && x.Site == a.Site &&
				w.Body().District == src.Roster().Head && src.Roster().Allows(w) {
				v, j = w, x
			}
		}
	})
	return v, j, err
}

// freeCode proposes letters for the numbers of a clinic's packs that no other site has.
func (d *Desk) freeCode(name string, site model.ID) (code string, err error) {
	taken, err := d.codes(site)
	if err != nil {
		return "", err
	}
	words := strings.Fields(name)
	slices.Reverse(words) // "Clinic Ndovu": the last word tells it from others
	for _, w := range append(words, name) {
		if code = SiteCode(w); !taken[code] && !strings.HasSuffix(code, "X") {
			return code, nil
		}
	}
	if code = firstFree(code, taken); code != "" {
		return code, nil
	}
	return "", refuse("code-taken", name)
}

// firstFree is the first of all letters that no other site has, beginning with a clinic's own initial as long as that goes.
func firstFree(code string, taken map[string]bool) string {
	for _, first := range code[:1] + clearLetters {
		for _, a := range clearLetters {
			for _, b := range clearLetters {
				if c := string(first) + string(a) + string(b); !taken[c] {
					return c
				}
			}
		}
	}
	return ""
}

// codes are those of all other sites, given or made from their names.
func (d *Desk) codes(but model.ID) (map[string]bool, error) {
	sites, err := d.Sites()
	taken := map[string]bool{}
	for _, s := range sites {
		if s.ID != but {
			taken[s.Code] = true
		}
	}
	return taken, err
}

// TakeIn takes a clinic into the district, writes the answer onto the stick, and gives the words that both screens show. Taking in the same request again writes the answer again.
func (d *Desk) TakeIn(a Applicant, code, dir string) (words string, err error) {
	if err := d.mayDistrict(); err != nil {
		return "", err
	}
	code = strings.ToUpper(strings.TrimSpace(code))
	taken, err := d.codes(a.Site)
	if err != nil {
		return "", err
	}
	if len(code) != 3 || !allIn(code, clearLetters) {
		return "", refuse("code-letters", clearLetters)
	}
	if taken[code] {
		return "", refuse("code-taken", code)
	}
	joined, _, err := d.joinedBy(a.Ask)
	if err != nil {
		return "", err
	}
	if joined.IsZero() {
		if joined, err = d.takeIn(a, code); err != nil {
			return "", err
		}
	}
	if err := d.invite(a, dir); err != nil {
		return "", err
	}
	return exchange.Phrase(a.Hash, d.Store.District(), joined.ID()), nil
}

func (d *Desk) takeIn(a Applicant, code string) (v entry.Verified, err error) {
	root := a.District()
	bad := ""
	err = d.read(func(src register.Source) {
		if s, ok := src.Roster().Site(a.Site); ok && s.Root != root {
			bad = "site-taken" // another root speaks for it
		}
		if root == src.Roster().District {
			bad = "own-district"
		}
	})
	if err != nil {
		return v, err
	}
	if bad != "" {
		return v, refuse(bad)
	}
	j := model.Joined{Root: root[:], Site: a.Site, Name: a.Name, Code: code, Request: a.Hash[:], Box: a.Box}
	for _, h := range a.Heads {
		j.Heads = append(j.Heads, model.KnownUpTo{Stream: h.Stream[:], Seq: int64(h.Seq)})
	}
	vs, err := d.sign(entry.Draft{Kind: model.KindJoined, Targets: []model.Ref{{Noun: model.NounSite, ID: a.Site}}, Payload: j})
	if err != nil {
		return v, err
	}
	return vs[0], nil
}

// invite writes the answer: what the office and the trust of the district are, locked to the clinic that asked.
func (d *Desk) invite(a Applicant, dir string) error {
	b, err := d.toldBox()
	if err != nil {
		return err
	}
	s, err := d.sender([]string{a.Box, b.Address()})
	if err != nil {
		return err
	}
	var roster = map[entry.Stream]bool{}
	if err := d.read(func(src register.Source) {
		for _, x := range src.Roster().Streams(d.ownSite(src.Roster())) {
			roster[x] = true
		}
	}); err != nil {
		return err
	}
	files, _, err := exchange.Out(carrier{d}, exchange.Errand{Sender: s, Everything: true, Counter: d.author.Lamport, See: func(x entry.Stream) bool { return roster[x] }})
	if err != nil {
		return d.unread(err)
	}
	for _, f := range files {
		if err := stick.Write(d.stick, dir, f.Name, f.Data, nil); err != nil {
			return troubled(err)
		}
	}
	return nil
}

// mayDistrict refuses who may not speak for the district: it takes a device of the office, and an officer or the one in charge there.
func (d *Desk) mayDistrict() error {
	office, err := d.Office()
	if err != nil {
		return err
	}
	if !office {
		return refuse("office-only")
	}
	return d.mayManage()
}

// Prove says that the words of a joining were compared at the office, and were alike.
func (d *Desk) Prove(site model.ID) error {
	if err := d.mayDistrict(); err != nil {
		return err
	}
	var joined entry.ID
	if err := d.read(func(src register.Source) {
		s, _ := src.Roster().Site(site)
		joined = s.Joined
	}); err != nil {
		return err
	}
	if joined == (entry.ID{}) {
		return refuse("no-such-site")
	}
	_, err := d.sign(entry.Draft{Kind: model.KindProven, Targets: []model.Ref{{Noun: model.NounSite, ID: site}}, Relies: []entry.ID{joined}, Payload: model.Proven{Joined: joined[:]}})
	return err
}

// WordsOf are the six words of a clinic's joining, to be compared later.
func (d *Desk) WordsOf(site model.ID) (words string, err error) {
	vs, err := d.Store.ByKind(model.KindJoined)
	if err != nil {
		return "", d.unread(err)
	}
	err = d.read(func(src register.Source) {
		s, _ := src.Roster().Site(site)
		for _, v := range vs {
			var j model.Joined
			if v.ID() == s.Joined && v.Body().Decode(&j) == nil && len(j.Request) == 32 {
				words = exchange.Phrase([32]byte(j.Request), src.Roster().Head, v.ID())
			}
		}
	})
	return words, err
}
