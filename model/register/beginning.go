package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// kindSource is a source that finds the entries of one kind about a noun without reading the others.
type kindSource interface {
	TargetingKind(model.Ref, model.Kind) []entry.Verified
}

// ofKind is a source of which only one kind is seen.
type ofKind struct {
	Source
	kind model.Kind
}

func (o ofKind) Targeting(ref model.Ref) []entry.Verified {
	if k, ok := o.Source.(kindSource); ok {
		return k.TargetingKind(ref, o.kind)
	}
	return slices.DeleteFunc(slices.Clone(o.Source.Targeting(ref)), func(v entry.Verified) bool { return v.Body().Kind != o.kind })
}

// TargetingKind are the entries of one kind that a noun's others stand among.
func TargetingKind(src Source, ref model.Ref, k model.Kind) []entry.Verified {
	return ofKind{src, k}.Targeting(ref)
}

// BeginningOf is a cycle as far as its beginnings tell: Begun, Entry, and in its state every word on its beginning. The order of a pot's cycles needs no more, and hundreds of them are
// gone through for it.
func BeginningOf(src Source, id model.ID) (c Cycle, ok bool) {
	only := ofKind{src, model.KindCycleBegun}
	c.State.Ref = model.Ref{Noun: model.NounCycle, ID: id}
	c.doubtsBy(src, tellerOf(only, c.State.Ref))
	for _, v := range only.Targeting(c.State.Ref) {
		if src.Roster().Known(v) {
			c.State.Entries = append(c.State.Entries, v)
		}
	}
	c.State.order()
	for _, v := range c.State.Entries {
		c.take(v, &ok)
	}
	return c, ok
}
