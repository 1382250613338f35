package store

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"mvuke/model"
	"mvuke/model/register"
)

// Packs are found by what a person reads off a label, types or scans.

func indexPack(tx *preparedTx, src *reader, ref model.Ref) error {
	p, ok := register.PackOf(src, ref.ID)
	if !ok {
		return nil
	}
	var pos int64
	if err := tx.QueryRow("SELECT min(pos) FROM target WHERE noun = ?", ref.Bytes()).Scan(&pos); err != nil {
		return err
	}
	prefix, counter, live := "", int64(0), 1
	if p.Made != nil {
		prefix, counter = p.Made.Prefix, p.Made.Counter
	}
	if p.Ended() {
		live = 0
	}
	missing := 0
	if p.Missing() {
		missing = 1
	}
	var load []byte
	if !p.Load.IsZero() {
		load = p.Load[:]
	}
	house, _ := register.House(src, ref)
	here, others := p.LiesAt(house), 0
	made := register.Claimants(src, ref)
	if slices.ContainsFunc(made, func(id model.ID) bool { return id != here }) {
		others = 1
	}
	if err := indexSites(tx, src, p, made); err != nil {
		return err
	}
	_, err := tx.Exec(`INSERT INTO pack (ref, label, words, prefix, counter, load, live, missing, pos, here, others) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (ref) DO UPDATE SET label = excluded.label, words = excluded.words, prefix = excluded.prefix, counter = excluded.counter,
		load = excluded.load, live = excluded.live, missing = excluded.missing, pos = excluded.pos, here = excluded.here, others = excluded.others`,
		ref.Bytes(),
		Bare(p.Label),
		strings.ToLower(strings.Join(append([]string{p.Label, Bare(p.Label), p.Set}, p.Also...), " ")),
		prefix,
		counter,
		load,
		live,
		missing,
		pos,
		here[:],
		others)
	return err
}

// Bare is a label as it is compared: letters and digits only, upper case.
func Bare(label string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, label)
}

// PacksLabelled lists packs with exactly this number, newest first: two in the register are two packs, whatever the number says.
func (s *Store) PacksLabelled(label string) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM pack WHERE label = ? ORDER BY pos DESC LIMIT 20", Bare(label))
}

// newest is how many packs are looked through one by one before the index of parts is asked: a common word is found among them.
const newest = 3000

// partLeast is the shortest part that the index of parts knows, in letters.
const partLeast = 3

// FindPacks lists packs of whose label or set the text is a part, the living and newest first. The number may be typed with or
// without its strokes.
func (s *Store) FindPacks(text string, limit int) ([]model.ID, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return s.cycles("SELECT ref FROM pack ORDER BY live DESC, pos DESC LIMIT ?", limit)
	}
	bare := strings.ToLower(Bare(text))
	if bare == "" {
		bare = text
	}
	out, err := s.cycles(`SELECT ref FROM (SELECT ref, words, live, pos FROM pack ORDER BY live DESC, pos DESC LIMIT ?)
		WHERE instr(words, ?) > 0 OR instr(words, ?) > 0 ORDER BY live DESC, pos DESC LIMIT ?`, newest, text, bare, limit)
	if err != nil || len(out) >= limit {
		return out, err
	}
	if utf8.RuneCountInString(text) < partLeast || utf8.RuneCountInString(bare) < partLeast {
		return s.cycles("SELECT ref FROM pack WHERE instr(words, ?) > 0 OR instr(words, ?) > 0 ORDER BY live DESC, pos DESC LIMIT ?", text, bare, limit)
	}
	return s.cycles("SELECT ref FROM pack WHERE n IN (SELECT rowid FROM pack_part WHERE pack_part MATCH ?) ORDER BY live DESC, pos DESC LIMIT ?",
		quoted(text)+" OR "+quoted(bare), limit)
}

// quoted is a text as the index of parts takes it word for word.
func quoted(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }

// LivePacks lists packs at a site that were neither opened nor spoilt, newest first.
func (s *Store) LivePacks(site model.ID, limit int) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM pack WHERE here = ? AND live = 1 ORDER BY pos DESC, ref LIMIT ?", site[:], limit)
}

// Borrowed lists the packs that lie at a site and were made by another, newest first.
func (s *Store) Borrowed(site model.ID) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM pack WHERE here = ? AND others = 1 ORDER BY pos DESC", site[:])
}

// Neighbours are the sites of which a site hears: they told something of a pack that it made, or that was sent to it.
func (s *Store) Neighbours(site model.ID) (out []model.ID, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return nil, err
	}
	rows, err := s.views.Query("SELECT DISTINCT b.site FROM pack_site a JOIN pack_site b ON a.pack = b.pack WHERE a.site = ?1 AND a.has = 1 AND b.spoke = 1 AND b.site <> ?1 ORDER BY b.site", site[:])
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var b []byte
		if err := rows.Scan(&b); err != nil {
			return nil, err
		}
		if len(b) == len(model.ID{}) {
			out = append(out, model.ID(b))
		}
	}
	return out, rows.Err()
}

// indexSites notes who has to do with a pack. It goes by certificates and not by who speaks now: what travelled once goes on to travel.
func indexSites(tx *preparedTx, src *reader, p register.Pack, made []model.ID) error {
	has, spoke := map[model.ID]bool{}, map[model.ID]bool{}
	for _, id := range made {
		has[id] = true
	}
	of := p.State.Entries
	for _, v := range of { // from who has it to the next
		var m model.PackMoved
		site, ok := src.Roster().Certified(v)
		if v.Body().Kind == model.KindPackMoved && v.Body().Decode(&m) == nil && ok && has[site] && !m.Site.IsZero() {
			has[m.Site] = true
		}
	}
	for _, load := range p.State.Parents {
		of = append(of[:len(of):len(of)], src.Targeting(load)...)
	}
	for _, v := range of {
		if site, ok := src.Roster().Certified(v); ok {
			spoke[site] = true
		}
	}
	ref := p.State.Ref.Bytes()
	all := maps.Clone(has)
	maps.Copy(all, spoke)
	if len(all) < 2 {
		return nil // one site's own business
	}
	for site := range all {
		if _, err := tx.Exec("INSERT INTO pack_site (pack, site, has, spoke) VALUES (?, ?, ?, ?) ON CONFLICT (site, pack) DO UPDATE SET has = max(has, excluded.has), spoke = max(spoke, excluded.spoke)",
			ref, site[:], has[site], spoke[site]); err != nil {
			return err
		}
	}
	return nil
}

// PacksMissing lists the packs at a site of which a piece did not come back, and nobody knows where it is, newest first.
func (s *Store) PacksMissing(site model.ID) ([]model.ID, error) {
	return s.cycles("SELECT ref FROM pack WHERE missing = 1 AND +here = ? ORDER BY pos DESC", site[:])
}

// HighestCounter is the highest counter of numbers with this prefix.
func (s *Store) HighestCounter(prefix string) (n int64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return 0, err
	}
	err = s.views.QueryRow("SELECT coalesce(max(counter), 0) FROM pack WHERE prefix = ?", prefix).Scan(&n)
	return n, err
}
