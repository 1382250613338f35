package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Doubted are the entries of a kind about a noun by devices whose word counted once and does not now, as long as nobody whose word counts has answered: by an entry that names
// them. They take nothing away and replace nothing; whoever reads them takes of them only what asks for more.
func Doubted(src Source, st State, kind model.Kind) (out []entry.Verified) {
	answered := func(v entry.Verified) bool {
		return slices.ContainsFunc(st.Entries, func(w entry.Verified) bool {
			b := w.Body()
			return src.Roster().Allows(w) && src.Roster().Together(w, v) && (slices.Contains(b.Replaces, v.ID()) || slices.Contains(b.Relies, v.ID()))
		})
	}
	for _, v := range slices.Concat(st.Entries, st.Claims) {
		if v.Body().Kind == kind && src.Roster().Once(v) && Speaks(src, v, st.Ref) && !answered(v) {
			out = append(out, v)
		}
	}
	return out
}
