package exchange

import (
	"crypto/ed25519"

	"filippo.io/age"

	"mvuke/model/entry"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
)

// Verdict is what is said of one file: one word, and what to do next.
type Verdict string

// The verdicts. Those of package bundle are passed on as they are.
const (
	New       Verdict = "new"            // something of it was not here
	Have      Verdict = "have"           // all of it was here
	Foreign   Verdict = "foreign"        // of another district: nothing is mixed in
	Stranger  Verdict = "unknown-sender" // from a device that was never certified here
	NotStored Verdict = "not-stored"     // our own disk: nothing is lost, try again
)

// Report is what became of one file.
type Report struct {
	Verdict Verdict          `json:"verdict"`
	Sender  entry.Stream     `json:"-"`
	Wall    int64            `json:"made_ms,omitempty"` // by the sender's clock
	Part    uint64           `json:"part,omitempty"`
	Of      uint64           `json:"of,omitempty"`
	Had     int              `json:"had"`
	Waiting int              `json:"waiting"`
	New     []entry.Verified `json:"-"`
	Foreign int              `json:"foreign,omitempty"` // entries under roots that nobody told us of
	Invited *Invitation      `json:"-"`                 // the file takes us into a district that we asked to join
	Cause   error            `json:"-"`
}

// batch is how many entries are applied at once: whatever happens after one, what was applied stands, and the rest is taken with the next try.
const batch = 4096

// In takes one file in. Nothing of it is applied before its last byte is verified.
func In(log Log, file []byte, keys ...age.Identity) (r Report) {
	fail := func(err error) Report {
		r.Cause = err
		if r.Verdict = Verdict(bundle.CodeOf(err)); r.Verdict == "" {
			r.Verdict = NotStored
		}
		return r
	}
	part, err := bundle.LookBytes(file)
	if err != nil {
		return fail(err)
	}
	r.Part, r.Of = part.Part, part.Of
	o, err := part.Open(keys...)
	if err != nil {
		return fail(err)
	}
	m := o.Manifest
	r.Sender, r.Wall = m.Sender, m.Wall
	all, grants, err := verified(o)
	if err != nil {
		return fail(err)
	}
	roster, err := log.Roster()
	if err != nil {
		return fail(err)
	}
	roster = roster.With(grants)
	if !roster.Family(m.District) {
		r.Verdict = Foreign
		r.Invited = invited(log, m, grants)
		return r
	}
	if _, known := roster.DeviceOf(m.Sender, m.District); !known {
		r.Verdict = Stranger
		return r
	}
	var ready []entry.Verified
	apply := func() error {
		t, err := log.Receive(ready, grants)
		r.New, r.Had, r.Waiting, ready = append(r.New, t.New...), r.Had+t.Had, r.Waiting+t.Waiting, nil
		return err
	}
	err = all(func(v entry.Verified) error {
		if !roster.Family(v.Body().District) { // of a clinic of which nobody told us: it comes again once somebody does
			r.Foreign++
			return nil
		}
		if ready = append(ready, v); len(ready) < batch {
			return nil
		}
		return apply()
	})
	if err == nil {
		err = apply()
	}
	if err == nil {
		err = keep(log, o.Standings)
	}
	if err != nil {
		return fail(err)
	}
	if r.Verdict = Have; len(r.New)+r.Waiting > 0 {
		r.Verdict = New
	}
	return r
}

// mostKept is how many verified entries of a part are kept in memory; of a larger part they are verified again when they are applied.
const mostKept = 100_000

// verified checks every entry of a part before any of it is applied. all gives them out, in order; grants are those that tell who may sign.
func verified(o *bundle.Opened) (all func(func(entry.Verified) error) error, grants []entry.Verified, err error) {
	each := func(take func(entry.Verified) error) error {
		return o.Each(func(s bundle.Segment) error {
			vs, err := entry.VerifyAll(s.Entries)
			if err != nil {
				return &bundle.Fault{Code: bundle.Malformed, Cause: err}
			}
			for _, v := range vs {
				if err := take(v); err != nil {
					return err
				}
			}
			return nil
		})
	}
	var kept []entry.Verified
	err = each(func(v entry.Verified) error {
		if o.Manifest.Entries <= mostKept {
			kept = append(kept, v)
		}
		if trust.IsGrant(v) {
			grants = append(grants, v)
		}
		return nil
	})
	if o.Manifest.Entries > mostKept {
		return each, grants, err
	}
	return func(take func(entry.Verified) error) error {
		for _, v := range kept {
			if err := take(v); err != nil {
				return err
			}
		}
		return nil
	}, grants, err
}

// keep keeps the words of devices of our district on what they hold.
func keep(log Log, list []bundle.Signed) error {
	roster, err := log.Roster()
	if err != nil {
		return err
	}
	for _, s := range list {
		x, err := bundle.OpenStanding(s)
		if err != nil {
			return err
		}
		if _, ok := roster.DeviceOf(x.Holder, x.District); !ok || !roster.Family(x.District) {
			continue // the word of a stranger
		}
		if err := log.KeepStanding(x, s); err != nil {
			return err
		}
	}
	return nil
}

func publicKey(s bundle.Sender) ed25519.PublicKey { return s.Key.Public().(ed25519.PublicKey) }
