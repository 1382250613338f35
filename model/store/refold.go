package store

import (
	"bytes"
	"database/sql"
	"errors"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// touchedBy adds the nouns that entries of some streams speak of, as far as these are in the tables.
func (s *Store) touchedBy(streams []entry.Stream, upTo int64, touched map[model.Ref]bool) error {
	for _, stream := range streams {
		vs, err := s.query("SELECT pos, body, key, sig FROM entry WHERE stream = ? AND pos <= ?", stream[:], upTo)
		if err != nil {
			return err
		}
		for _, v := range vs {
			for _, r := range v.Body().Refs() {
				if register.Counts(v, r) {
					touched[r] = true
				}
			}
		}
	}
	return nil
}

func (s *Store) refold(tx *preparedTx, src *reader, touched map[model.Ref]bool) error {
	var digest [32]byte
	if b, err := markOf(tx, "digest"); err != nil {
		return err
	} else if len(b) == 32 {
		digest = [32]byte(b)
	}
	for ref := range touched { // what another site says of a load concerns who has its packs
		if ref.Noun != model.NounCycle {
			continue
		}
		house, _ := register.House(src, ref)
		for _, v := range src.Targeting(ref) {
			if site, ok := src.Roster().Certified(v); ok && site != house {
				for _, p := range packsOf(src, ref) {
					touched[p] = true
				}
				break
			}
		}
	}
	for ref := range touched { // a load is held by what is told of its packs
		if ref.Noun == model.NounPack {
			for _, load := range register.Of(src, ref).Parents {
				touched[load] = true
			}
		}
	}
	for ref := range touched { // what is told of a spore test concerns the pot that it was laid into: what brought that back, and what leans on it
		if ref.Noun != model.NounTest {
			continue
		}
		for _, v := range register.TargetingKind(src, ref, model.KindSporePlaced) {
			var p model.SporePlaced
			if v.Body().Decode(&p) == nil {
				touched[model.Ref{Noun: model.NounSterilizer, ID: p.Pot}] = true
			}
		}
	}
	if err := loadsOfMended(tx, src, touched); err != nil {
		return err
	}
	nowhere := model.ID{}
	for ref := range touched { // what was found out of a gauge or an altitude holds the loads made by it
		var err error
		switch ref.Noun {
		case model.NounGauge:
			err = loadsWhere(tx, touched, "gauge IN (?, ?)", ref.ID[:], nowhere[:])
		case model.NounReference:
			for _, v := range register.TargetingKind(src, ref, model.KindCompared) {
				for _, g := range v.Body().Refs() {
					if g.Noun == model.NounGauge {
						err = errors.Join(err, loadsWhere(tx, touched, "gauge IN (?, ?)", g.ID[:], nowhere[:]))
					}
				}
			}
		case model.NounSterilizer:
			var more bool
			if more, err = holdsAllSince(tx, src, ref); more {
				err = loadsWhere(tx, touched, "pot = ?", ref.Bytes())
			}
		case model.NounSite:
			var more bool
			if more, err = goneSince(tx, src, ref, model.KindSite); more {
				err = loadsWhere(tx, touched, "site IN (?, ?) OR shared = 1", ref.ID[:], nowhere[:])
			}
		case model.NounPolicy:
			var more bool
			if more, err = goneSince(tx, src, ref, model.KindPolicy); more {
				err = loadsWhere(tx, touched, "1 = 1")
			}
		case model.NounHeight:
			err = loadsWhere(tx, touched, "site IN (?, ?) OR shared = 1", ref.ID[:], nowhere[:])
		}
		if err != nil {
			return err
		}
	}
	if touched[model.PolicyRef(model.PolicyNotKnown)] { // releases rest on it
		if err := loadsWhere(tx, touched, "1 = 1"); err != nil {
			return err
		}
	}
	for ref := range touched {
		row := register.Of(src, ref).Hash()
		var old []byte
		switch err := tx.QueryRow("SELECT hash FROM noun WHERE ref = ?", ref.Bytes()).Scan(&old); {
		case err == nil:
			digest = register.SubDigest(digest, [32]byte(old))
		case !errors.Is(err, sql.ErrNoRows):
			return err
		}
		digest = register.AddDigest(digest, row)
		if _, err := tx.Exec("INSERT INTO noun (ref, hash) VALUES (?, ?) ON CONFLICT (ref) DO UPDATE SET hash = excluded.hash", ref.Bytes(), row[:]); err != nil {
			return err
		}
		if ref.Noun == model.NounCycle {
			if err := indexCycle(tx, src, ref); err != nil {
				return err
			}
		}
		if ref.Noun == model.NounPack {
			if err := indexPack(tx, src, ref); err != nil {
				return err
			}
		}
	}
	return errors.Join(setMark(tx, "digest", digest[:]), countStopped(tx))
}

// loadsOfMended adds the loads of pots that came back from a growth otherwise than these tables knew: by what brought a pot back its loads are free or held.
func loadsOfMended(tx *preparedTx, src *reader, touched map[model.Ref]bool) error {
	for ref := range touched {
		if ref.Noun != model.NounSterilizer {
			continue
		}
		var said []byte
		for _, h := range register.Of(src, ref).Holds {
			for _, c := range h.Cleared {
				id := c.ID()
				said = append(append(said, h.ID[:]...), id[:]...)
			}
		}
		name := "mended" + string(ref.Bytes())
		if was, err := markOf(tx, name); err != nil || bytes.Equal(was, said) {
			if err != nil {
				return err
			}
			continue
		}
		if err := setMark(tx, name, said); err != nil {
			return err
		}
		if err := loadsWhere(tx, touched, "pot = ?", ref.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// packsOf are the packs that went into a load.
func packsOf(src *reader, load model.Ref) (out []model.Ref) {
	for _, v := range src.Targeting(load) {
		if v.Body().Kind != model.KindCycleBegun {
			continue
		}
		for _, r := range v.Body().Refs() {
			if r.Noun == model.NounPack {
				out = append(out, r)
			}
		}
	}
	return out
}

// loadsWhere adds loads to what is to be folded again.
func loadsWhere(tx *preparedTx, touched map[model.Ref]bool, where string, args ...any) error {
	rows, err := tx.Query("SELECT ref FROM cycle WHERE "+where, args...)
	if err != nil {
		return err
	}
	for rows.Next() {
		var b []byte
		if err := rows.Scan(&b); err != nil {
			return errors.Join(err, rows.Close())
		}
		if load, err := model.RefOf(b); err == nil {
			touched[load] = true
		}
	}
	return errors.Join(rows.Err(), rows.Close())
}

func indexCycle(tx *preparedTx, src *reader, ref model.Ref) error {
	c, ok := register.CycleOf(src, ref.ID)
	if !ok {
		return nil
	}
	settled := 0
	if c.Settled() && !c.StoppedAgain() {
		settled = 1
	}
	pot := model.Ref{Noun: model.NounSterilizer, ID: c.Begun.Sterilizer}
	if len(c.State.Parents) > 0 { // what it comes from, by what it targets; where its payload names another it is held
		pot = c.State.Parents[0]
	}
	var pos int64
	if err := tx.QueryRow("SELECT min(pos) FROM target WHERE noun = ?", ref.Bytes()).Scan(&pos); err != nil {
		return err
	}
	site, _ := register.House(src, ref)
	if err := noteStopped(tx, ref, site, c, settled == 1); err != nil {
		return err
	}
	gauge := gaugeOf(src, c)
	shared, sure := 0, 0
	if slices.ContainsFunc(register.Claimants(src, ref), func(id model.ID) bool { return id != site }) {
		shared = 1
	}
	if c.Entry.Body().Clock == model.ClockGood {
		sure = 1
	}
	_, err := tx.Exec(`INSERT INTO cycle (ref, pot, number, pos, settled, site, gauge, shared, begun, sure) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (ref) DO UPDATE SET pot = excluded.pot, number = excluded.number, pos = excluded.pos, settled = excluded.settled, site = excluded.site, gauge = excluded.gauge,
		shared = excluded.shared, begun = excluded.begun, sure = excluded.sure`,
		ref.Bytes(),
		pot.Bytes(),
		c.Begun.Number,
		pos,
		settled,
		site[:],
		gauge[:],
		shared,
		c.Begun.Begun,
		sure)
	return err
}

// Digest is the sum of all nouns' row hashes: equal for equal sets of entries.
func (s *Store) Digest() ([32]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return [32]byte{}, err
	}
	b, err := s.mark("digest")
	if err != nil || len(b) != 32 {
		return [32]byte{}, err
	}
	return [32]byte(b), nil
}

// RebuildViews throws the read tables away and makes them from the entries.
func (s *Store) RebuildViews() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.forgetViews(); err != nil {
		return err
	}
	s.viewErr = s.followUp()
	return s.viewErr
}

// followUp brings the read tables up to the register and to what waits.
func (s *Store) followUp() error {
	s.changes++
	return errors.Join(s.catchUp(), s.indexWaiting())
}

// gaugeOf is the gauge that a load was watched by; zero where several may have been.
func gaugeOf(src register.Source, c register.Cycle) (gauge model.ID) {
	if on := register.GaugesOf(src, c); len(on) == 1 {
		return on[0]
	}
	return gauge
}

// holdsAllSince says whether what holds loads of a pot without naming them is otherwise than these tables knew: wide recalls, and words that another gauge is on it.
func holdsAllSince(tx *preparedTx, src *reader, pot model.Ref) (bool, error) {
	var said []byte
	for _, v := range src.Targeting(pot) {
		if v.Body().Kind == model.KindRecall || register.SaysScrewedOn(v) {
			id := v.ID()
			said = append(said, id[:]...)
			var r model.Recall
			if v.Body().Kind == model.KindRecall && v.Body().Decode(&r) == nil {
				n := len(register.SpareNow(src, v, r))
				said = append(said, byte(n), byte(n>>8))
			}
		}
	}
	return changed(tx, "recalled"+string(pot.Bytes()), said)
}

// changed keeps what was said under a name, and says whether it was otherwise before.
func changed(tx *preparedTx, name string, said []byte) (bool, error) {
	was, err := markOf(tx, name)
	if err != nil || bytes.Equal(was, said) {
		return false, err
	}
	return true, setMark(tx, name, said)
}

// goneSince says whether words of a kind on a noun count no more that these tables knew to count, or the other way round: loads were planned by them.
func goneSince(tx *preparedTx, src *reader, ref model.Ref, kind model.Kind) (bool, error) {
	var said []byte
	var gone []entry.ID
	words := register.TargetingKind(src, ref, kind)
	for _, v := range words {
		if src.Roster().Gone(v) {
			id := v.ID()
			said, gone = append(said, id[:]...), append(gone, id)
		}
	}
	for _, v := range words { // and what answers them
		if id := v.ID(); !src.Roster().Gone(v) && slices.ContainsFunc(v.Body().Replaces, func(r entry.ID) bool { return slices.Contains(gone, r) }) {
			said = append(said, id[:]...)
		}
	}
	return changed(tx, "gone"+string(ref.Bytes()), said)
}
