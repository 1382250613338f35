package work_test

import (
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

func packUse() work.UseForm {
	return work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}
}

// draftLost closes the search for what is missing by the count that stands.
func draftLost(id model.ID, p work.PackView) entry.Draft {
	return entry.Draft{Kind: model.KindPieceLost, Targets: []model.Ref{pref(id)}, Relies: []entry.ID{p.CountedBy.ID()}, Payload: model.PieceLost{Reason: "x"}}
}
