package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Doubted are the entries of a kind about a noun by devices whose word counted once and does not now, as long as nobody whose word counts has answered: by an entry that names
// them. They take nothing away and replace nothing; whoever reads them takes of them only what asks for more.
func Doubted(src Source, st State, kind model.Kind) (out []entry.Verified) {
	answered := map[entry.ID]bool{}
	for _, v := range st.Entries {
		if src.Roster().Allows(v) && Speaks(src, v, st.Ref) {
			for _, id := range slices.Concat(v.Body().Replaces, v.Body().Relies) {
				answered[id] = true
			}
		}
	}
	for _, v := range slices.Concat(st.Entries, st.Claims) {
		if v.Body().Kind == kind && src.Roster().Once(v) && !answered[v.ID()] && Speaks(src, v, st.Ref) {
			out = append(out, v)
		}
	}
	return out
}
