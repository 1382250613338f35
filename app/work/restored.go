package work

import (
	"strings"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// unanswered are the times that this register went on from an older copy, and nobody in charge has answered for what may be missing: bad news written after the copy was
// made is not here.
func (d *Desk) unanswered() (out []entry.Verified, err error) {
	mine, err := home.OldStreams(d.fs, d.Dir) // of this device, under every key that it had: a copy that went on elsewhere answers there
	if err != nil {
		return nil, err
	}
	var own []entry.Stream
	for _, key := range mine {
		own = append(own, entry.StreamOf(key))
	}
	vs, err := d.Store.ByKind(model.KindRestored, append(own, d.author.Stream)...)
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		for _, v := range vs {
			if !src.Roster().Known(v) {
				continue
			}
			answered := false
			for _, ref := range v.Body().Refs() {
				for _, w := range src.Targeting(ref) {
					answered = answered || (w.Body().Kind == model.KindLookedInto && d.ours(src, w) && entry.Less(v, w) < 0)
				}
			}
			if !answered {
				out = append(out, v)
			}
		}
	})
	return out, err
}

// FromCopy says that this register went on from a copy, and nobody in charge has said what was done about what may be missing.
func (d *Desk) FromCopy() bool {
	vs, err := d.unanswered()
	return err != nil || len(vs) > 0
}

func (d *Desk) todayRestored(add func(Urgency, string, string, model.ID, ...string)) error {
	vs, err := d.unanswered()
	for range vs {
		add(Stop, "copy-older", "restored", model.ID{})
		break // one line says it
	}
	return err
}

// AnswerRestored says what was done about records that may be missing: labels and paper looked at, sticks of other devices brought in. The one in charge answers by name.
func (d *Desk) AnswerRestored(reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return refuse("reason-missing")
	}
	vs, err := d.unanswered()
	if err != nil {
		return err
	}
	lost, err := d.Store.WaitingLost()
	if err != nil {
		return d.unread(err)
	}
	if len(vs) == 0 && lost == 0 {
		return nil
	}
	var refs []model.Ref
	for _, v := range vs {
		refs = append(refs, v.Body().Refs()...)
	}
	if len(refs) == 0 {
		refs = []model.Ref{{Noun: model.NounDevice, ID: model.ID(d.author.Stream)}}
	}
	if _, err = d.sign(entry.Draft{Kind: model.KindLookedInto, Targets: refs, Payload: model.LookedInto{Reason: reason}}); err != nil {
		return err
	}
	return d.Store.WaitingAnswered()
}
