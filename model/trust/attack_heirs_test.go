package trust

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// Whoever has the old words writes with them as if it were before the root was replaced.
func TestAttackTheOldWordsWrittenBack(t *testing.T) {
	for name, copied := range map[string]func(x *book) entry.Author{
		"from its first number":          func(x *book) entry.Author { return *author(1, x.d) },
		"from the number before it left": func(x *book) entry.Author { return *x.root },
	} {
		t.Run(name+" they open nothing", func(t *testing.T) {
			x := newBook(t)
			x.grant(x.site, x.b, 1, all)
			thief := copied(x)
			x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{1}, Key: x.site.Key(), Code: "AAA"})
			x.succeed(x.root, author(21, x.d), 21, false)
			late := author(23, x.d)
			sg := x.act(&thief, model.KindSiteGrant, model.SiteGrant{Site: model.ID{1}, Key: late.Key()})
			g := x.grant(late, x.a, 1, all)
			free := x.release(x.a, g.ID(), sg.ID())
			x.eachOrder(func(r Roster) {
				if r.Allows(free) && r.NamesGrant(free) {
					t.Fatal("a device that only the old words named may release")
				}
			})
		})
	}
}
