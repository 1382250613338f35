package work

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
)

// UseForm is what is told when a pack is opened for use.
type UseForm struct {
	Outside bool            // whole, dry, tape changed, in date
	Strip   model.StripSaid // inside
	Number  string          // register number of the use, never a name; may be empty
	Anyway  bool            // the person was told that it may not be used, and it was used all the same
}

// OpenPack records a pack opened for use. What may not be used is refused once; used all the same it is recorded as such,
// for it happened. A strip that did not reach its end point stops the whole load at once.
func (d *Desk) OpenPack(id model.ID, f UseForm) error {
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	switch {
	case p.Opened != nil:
		return refuse("pack-ended", p.Label)
	case f.Strip != model.StripReached && f.Strip != model.StripNot && f.Strip != model.StripNone:
		return refuse("strip")
	case f.Strip == model.StripNone && p.Made != nil && p.Made.Strip: // it is in there, or nobody looked
		return refuse("strip-was-in", p.Label)
	case !f.Anyway && !(p.State.Good() || p.State == ShelfUnknown):
		return refuse("pack-not-usable", p.Label)
	case !f.Anyway && (!f.Outside || f.Strip == model.StripNot):
		// not for use: it is recorded below without a use
		f.Number = ""
	}
	use, err := d.seal(id, f.Number)
	if err != nil {
		return err
	}
	o := model.PackOpened{Outside: f.Outside, Strip: f.Strip, Use: use, At: d.Clock.Now().Wall.UnixMilli(), Label: p.State == ShelfUnknown}
	refs := []model.Ref{packRef(id)}
	if f.Strip == model.StripNot && !p.Load.IsZero() {
		refs = append(refs, model.Ref{Noun: model.NounCycle, ID: p.Load})
	}
	drafts := []entry.Draft{{Kind: model.KindPackOpened, Targets: refs, Payload: o}}
	if f.Anyway {
		drafts = append(drafts, entry.Draft{Kind: model.KindIncident, Targets: refs[:1:1], Payload: model.Incident{Code: model.UnsterileUse, Text: string(p.State)}})
	}
	_, err = d.sign(drafts...)
	return err
}

// A note keeps what an entry must not: the register number behind its hash. It stays at the site.
type note struct {
	Salt   string `json:"salt"`
	Number string `json:"number"`
	Pack   string `json:"pack"`
}

// notesDir holds the sealed notes.
const notesDir = "notes"

// seal keeps a register number in a note of its own and gives its hash.
func (d *Desk) seal(pack model.ID, number string) ([]byte, error) {
	number = strings.TrimSpace(number)
	if number == "" {
		return nil, nil
	}
	if !LooksLikeNumber(number) {
		return nil, refuse("register-number")
	}
	var salt [16]byte
	if _, err := d.rnd.Read(salt[:]); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(append(salt[:], number...))
	b, err := json.Marshal(note{hex.EncodeToString(salt[:]), number, hex.EncodeToString(pack[:])})
	if err != nil {
		return nil, err
	}
	dir := filepath.Join(d.Dir, notesDir)
	if err := d.fs.MkdirAll(dir, 0o700); err != nil {
		return nil, wrap(err, "not-saved")
	}
	if err := home.Replace(d.fs, filepath.Join(dir, hex.EncodeToString(sum[:16])), b, 0o600); err != nil {
		return nil, wrap(err, "not-saved")
	}
	return sum[:], nil
}

// LooksLikeNumber says whether a text can be a register number: figures, with few letters. A name has none.
func LooksLikeNumber(s string) bool {
	digits, letters := 0, 0
	for _, r := range s {
		switch {
		case unicode.IsDigit(r):
			digits++
		case unicode.IsLetter(r):
			letters++
		case !strings.ContainsRune("-/. ", r):
			return false
		}
	}
	return digits > 0 && letters <= 4 && len(s) <= 24
}

// UseOf gives the register number behind a hash, where its note lies here.
func (d *Desk) UseOf(use []byte) (number string, ok bool) {
	if len(use) != sha256.Size {
		return "", false
	}
	b, err := d.fs.ReadFile(filepath.Join(d.Dir, notesDir, hex.EncodeToString(use[:16])))
	var n note
	if err != nil || json.Unmarshal(b, &n) != nil {
		return "", false
	}
	salt, err := hex.DecodeString(n.Salt)
	sum := sha256.Sum256(append(salt, n.Number...))
	return n.Number, err == nil && string(sum[:]) == string(use)
}

// CountBack records a set that came back from use, counted. A piece that is missing and was not counted at the end of the
// procedure may be in the patient: the clinician hears it first.
func (d *Desk) CountBack(id model.ID, c model.SetCounted) error {
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	if p.Opened == nil {
		return refuse("pack-not-opened", p.Label)
	}
	if c.Listed < 1 || c.Present < 0 || c.Present > c.Listed {
		return refuse("pieces")
	}
	if most := p.ToComeBack(); c.Listed < most {
		return refuse("pieces-fewer", p.Label, strconv.FormatInt(most, 10))
	}
	c.Pack, c.At, c.Damaged = id, d.Clock.Now().Wall.UnixMilli(), strings.TrimSpace(c.Damaged)
	dr := entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{packRef(id)}, Payload: c}
	if p.Counted != nil {
		dr.Relies = []entry.ID{p.CountedBy.ID()}
	}
	_, err = d.sign(dr)
	return err
}

// todayMissing puts the clinician's line on top: a piece that was missing when a set came back, and was not counted at the end
// of the procedure. A later count in which it is there, or counted, takes the line away.
func (d *Desk) todayMissing(add func(Urgency, string, string, model.ID, ...string)) error {
	site, err := d.SiteID()
	if err != nil {
		return err
	}
	ids, err := d.Store.PacksMissing(site)
	if err != nil {
		return d.unread(err)
	}
	packs, err := d.packs(ids)
	for _, p := range packs {
		number := ""
		if p.Opened != nil {
			number, _ = d.UseOf(p.Opened.Use)
		}
		add(Stop, "piece-missing", "pack", p.ID, p.Label, p.Set, strconv.FormatInt(p.Counted.Present, 10), strconv.FormatInt(p.Counted.Listed, 10), number)
	}
	return err
}

// PieceLost closes the search for a piece that was never found. The one in charge answers for it by name, and says who was told.
func (d *Desk) PieceLost(id model.ID, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	if !p.Missing() {
		return refuse("nothing-missing", p.Label)
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return refuse("reason-missing")
	}
	_, err = d.sign(entry.Draft{Kind: model.KindPieceLost, Targets: []model.Ref{packRef(id)}, Relies: []entry.ID{p.CountedBy.ID()}, Payload: model.PieceLost{Reason: reason}})
	return err
}
