package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Clearable are the holds that a person in charge may lift by name and reason: a wet load (the default is
// to do it all again), a load of which a strip failed at the bedside, a load or a pack of which a removed device told something, one whose later records may be missing, one that
// may be of a pot's bad time, one that is called back, one stopped by hand, and one planned by rules that count no more.
var Clearable = []string{register.HoldWetLoad, register.HoldStrip, register.HoldDoubted, HoldRestored, HoldStopped, register.HoldBadTime, register.HoldRecalled, register.HoldRules}

// ClearHold lifts the holds of one code on a load, or on a pack; the person in charge answers for it by name and reason.
func (d *Desk) ClearHold(ref model.Ref, code, reason string) error {
	if !slices.Contains(Clearable, code) {
		return refuse("nothing-to-clear")
	}
	if err := d.mayManage(); err != nil {
		return err
	}
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	st, err := d.noun(ref)
	if err != nil {
		return err
	}
	var ids, relies []entry.ID
	for _, h := range st.Holds {
		if h.Open() && h.Code == code {
			ids, relies = append(ids, h.ID), append(relies, h.Cause.ID())
		}
	}
	if len(ids) == 0 {
		return refuse("nothing-to-clear")
	}
	if err := d.read(func(src register.Source) { relies = append(relies, d.authority(src, ref)...) }); err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindClear, Targets: []model.Ref{ref}, Clears: ids, Relies: relies, Payload: model.Clear{Reason: strings.TrimSpace(reason)}})
	return err
}
