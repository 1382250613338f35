package work

import (
	"errors"
	"slices"
	"strconv"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// What shows that the cause of a pot's hold is mended.

// Negatives is the number of valid negative tests in a row that bring a pot back (CDC sterilizing practices, restated).
const Negatives = 3

// proofOf gives what shows that the cause of a hold is mended.
func (d *Desk) proofOf(pot Pot, st register.State, code string, since entry.Verified) (out []entry.ID, err error) {
	switch code {
	case register.HoldValve:
		for _, v := range st.Entries {
			var x model.ValveTest
			if v.Body().Kind == model.KindValveTest && v.Body().Decode(&x) == nil && x.Lifted && slices.Contains(v.Body().Relies, since.ID()) && d.allows(v) {
				out = append(out, v.ID())
			}
		}
		if len(out) == 0 {
			return nil, refuse("valve-not-mended")
		}
		return out, nil
	case register.HoldSpore:
		tests, err := d.SporeTests(200)
		if err != nil {
			return nil, err
		}
		cycles := map[model.ID]bool{} // three tests in one cycle are one proof
		for _, t := range tests {     // newest first
			if t.Placed.Pot != pot.ID || entry.Less(since, t.PlacedBy) > 0 {
				break
			}
			if t.Said == model.SporeNegative && !cycles[t.Placed.Cycle] {
				whole, err := d.wholeCycle(t.Placed.Cycle)
				if err != nil {
					return nil, err
				}
				c, err := d.Cycle(t.Placed.Cycle)
				if err != nil {
					return nil, err
				}
				later, err := d.begunSince(c, since)
				if err != nil {
					return nil, err
				}
				if whole && later { // a test laid into an old cycle proves nothing
					cycles[t.Placed.Cycle] = true
					out = append(out, t.ReadBy.ID())
				}
			} else if t.Said == model.SporePositive {
				break
			}
		}
		if len(out) < Negatives {
			return nil, refuse("three-negatives", strconv.Itoa(len(out)), strconv.Itoa(Negatives))
		}
		return out, nil
	}
	return nil, refuse("nothing-to-clear")
}

// growthsOf are the growths of a pot, and what brought it back from each: a cycle names them, and was so begun in knowledge of them, whatever any clock or counter says.
func (d *Desk) growthsOf(pot model.ID) (out []entry.ID, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot})
	for _, h := range st.Holds {
		if h.Code != register.HoldSpore {
			continue
		}
		for _, v := range append([]entry.Verified{h.Cause}, h.Cleared...) {
			if !slices.Contains(out, v.ID()) {
				out = append(out, v.ID())
			}
		}
	}
	return out[max(0, len(out)-mostGrowths):], err
}

// mostGrowths bounds what a cycle names; of a pot that grew so often the oldest are long answered, and what is not named holds.
const mostGrowths = 200

// begunSince says whether a cycle was begun in knowledge of an entry, and of a slip also whether the day and hour on it are later.
func (d *Desk) begunSince(c register.Cycle, since entry.Verified) (bool, error) {
	if !slices.Contains(c.Entry.Body().Relies, since.ID()) {
		return false, nil
	}
	if c.Begun.Source != model.FromPaper {
		return true, nil
	}
	at, known, err := d.Corrected(since)
	lit, sure, errLit := d.Began(c)
	return known && sure && lit.After(at), errors.Join(err, errLit)
}

// wholeCycle says whether a cycle was run to its end and its readings show it: a test that lay in a pot that was never hot is no proof.
func (d *Desk) wholeCycle(id model.ID) (bool, error) {
	c, err := d.Cycle(id)
	if err != nil || c.Closed == nil || c.Aborted() {
		return false, err
	}
	r, err := d.Judge(c)
	return r.Verdict == model.Shown, err
}
