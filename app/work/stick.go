package work

import (
	"bytes"
	"errors"
	"maps"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
	"mvuke/sync/stick"
)

// Sites lists the sites of the district that are known here, our own first, then by name.
func (d *Desk) Sites() (out []SiteKnown, err error) {
	err = d.read(func(src register.Source) {
		r := src.Roster()
		own := d.ownSite(r)
		for _, g := range r.Sites() {
			s, _, _ := register.Described[model.Site](register.Of(src, model.Ref{Noun: model.NounSite, ID: g.ID}), model.KindSite)
			x := SiteKnown{ID: g.ID, Name: s.Name, Code: g.Code, Own: g.ID == own, Office: g.Office, Unproven: !g.Accepted || (r.Head == r.District && !g.Proven && g.ID != own)}
			if x.Name == "" {
				x.Name = g.Name
			}
			if x.Code == "" {
				x.Code = SiteCode(x.Name)
			}
			for stream := range r.Devices(g.ID) {
				if d.author == nil || stream != d.author.Stream {
					x.Devices = append(x.Devices, stream)
				}
			}
			out = append(out, x)
		}
	})
	slices.SortFunc(out, func(a, b SiteKnown) int {
		if a.Own != b.Own {
			if a.Own {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	return out, err
}

// SiteKnown is a site of the district.
type SiteKnown struct {
	ID       model.ID
	Name     string
	Code     string // that begins the numbers of its packs
	Own      bool
	Office   bool
	Unproven bool           // it asked to join, and the words were not compared: nothing goes to it
	Devices  []entry.Stream // other than this one
}

// Has says whether a text, in lower case, is part of the site's name or letters.
func (s SiteKnown) Has(text string) bool {
	return strings.Contains(strings.ToLower(s.Name+" "+s.Code), text)
}

// SitesNamed are the sites of a name; of several, one can be told by the letters of its numbers.
func (d *Desk) SitesNamed(name string) (out []SiteKnown, err error) {
	all, err := d.Sites()
	for _, s := range all {
		if name != "" && s.Code == strings.ToUpper(name) {
			return []SiteKnown{s}, err
		}
		if strings.EqualFold(s.Name, name) {
			out = append(out, s)
		}
	}
	return out, err
}

// severalSites says that a name does not tell which site is meant.
func severalSites(name string, sites []SiteKnown) error {
	var letters []string
	for _, s := range sites {
		letters = append(letters, s.Code)
	}
	return refuse("several-sites", name, strings.Join(letters, ", "))
}

// OneSite is the only site of a name, or of the letters of its numbers; "" is our own.
func (d *Desk) OneSite(name string) (s SiteKnown, err error) {
	all, err := d.Sites()
	if err != nil {
		return s, err
	}
	if i := slices.IndexFunc(all, func(x SiteKnown) bool { return x.Own }); name == "" && i >= 0 {
		return all[i], nil
	}
	found, err := d.SitesNamed(name)
	switch {
	case err != nil:
		return s, err
	case len(found) == 0:
		var names []string
		for _, x := range all {
			names = append(names, x.Name)
		}
		return s, refuse("no-site-named", name, strings.Join(names, ", "))
	case len(found) > 1:
		return s, severalSites(name, found)
	}
	return found[0], nil
}

// Taken is what was taken out.
type Taken struct {
	Files   []string
	Entries int
}

// TakeOut writes what a site lacks onto a stick, or into a folder, by the one recipe. everything sends all that is here, whatever is known of them. It
// changes nothing here but the first time, when our own key for receiving is told.
func (d *Desk) TakeOut(to model.ID, dir string, everything bool, progress func(file string, step, done, all int)) (t Taken, err error) {
	if d.Practice {
		return t, refuse("gate.practice")
	}
	sites, err := d.Sites()
	if err != nil {
		return t, err
	}
	i := slices.IndexFunc(sites, func(s SiteKnown) bool { return s.ID == to })
	if i < 0 {
		return t, refuse("no-such-site")
	}
	if err := d.mayExchange(to); err != nil {
		return t, err
	}
	see, err := d.sees(to)
	if err != nil {
		return t, err
	}
	b, err := d.toldBox()
	if err != nil {
		return t, err
	}
	boxes, err := d.boxes(to)
	if err != nil {
		return t, err
	}
	if len(boxes) == 0 {
		return t, refuse("site-no-box", sites[i].Name)
	}
	s, err := d.sender(append(boxes, b.Address()))
	if err != nil {
		return t, err
	}
	files, sent, err := exchange.Out(carrier{d}, exchange.Errand{Sender: s, To: sites[i].Devices, Everything: everything, Counter: d.author.Lamport, See: see})
	if err != nil {
		return t, d.unread(err)
	}
	t.Entries = sent
	for _, f := range files {
		err := stick.Write(d.stick, dir, f.Name, f.Data, func(step stick.Step, done, all int) {
			if progress != nil {
				progress(f.Name, int(step), done, all)
			}
		})
		if err != nil {
			return t, troubled(err)
		}
		t.Files = append(t.Files, f.Name)
	}
	return t, nil
}

// troubled puts a stick's trouble into a refusal.
func troubled(err error) error {
	var tr *stick.Trouble
	if errors.As(err, &tr) {
		return wrap(err, "stick."+tr.Code)
	}
	return err
}

// Brought is what became of one file on a stick.
type Brought struct {
	File string
	exchange.Report
	News  int                // new entries
	Kinds map[model.Kind]int // of these, by kind
	Gone  bool               // its sender was taken out: what it opens does not count, what it stops does
	From  string             // name of the sender's site; "" where it is not known
	Ahead time.Duration      // by how much the sender's clock was ahead of ours when it made the file; zero where a day or less
}

// The verdicts that are no fault, for screens that know no bundle.
const (
	CarryNew  = exchange.New
	CarryHave = exchange.Have

	CarryOthers = exchange.Verdict(bundle.NotForUs) // locked to others: to be carried on
	CarryUnread = exchange.Verdict("unread")        // a file or folder that the stick did not give: it may be ours
)

// Drives lists the removable drives that are mounted.
func Drives() ([]stick.Drive, error) { return stick.Drives() }

// BroughtIn is what became of a stick.
type BroughtIn struct {
	Files []Brought
	Asks  []Applicant // clinics that ask to join, where this is the office
	Cut   bool        // there were too many names to look at all

	Stopped []Line  // what Today stops since, or says anew of what it stops
	Worse   []Worse // at the office: the clinics of which more is stopped since
	Unsure  bool    // Today could not be read: what is stopped is not known

	from map[model.ID]bool // the clinics of which it brought something
	grew []model.ID        // the loads in which it says that spores grew
}

// scarce is how much garbage may lie about, in per cent of what is in use, while a stick is read: of a million acts it takes a fifth of the memory off and adds a sixteenth of the time (measured).
const scarce = 50

// BringIn takes in what lies on a stick, or in a folder: only files that begin as ours are read, whatever they are called. Each has its plain verdict; and of all it is said what stops since.
func (d *Desk) BringIn(dir string) (BroughtIn, error) {
	before, unread := d.stops() // a stick is taken in also where Today cannot be read: it may bring what is missing
	out, err := d.bringIn(dir)
	if err != nil || !slices.ContainsFunc(out.Files, func(b Brought) bool { return b.News > 0 || b.Waiting > 0 }) {
		return out, err
	}
	if slices.ContainsFunc(out.Files, func(b Brought) bool { return b.Kinds[model.KindClockSet] > 0 }) { // a clock that told of something was wrong
		unread = errors.Join(unread, d.stopFreedByDates())
	}
	after, err := d.stopsOf(out.from)
	if err = errors.Join(unread, err); err != nil {
		out.Unsure = true
		return out, nil
	}
	out.Stopped, out.Worse = after.since(before)
	out.Unsure = d.nameGrowths(&out) != nil
	return out, nil
}

func (d *Desk) bringIn(dir string) (out BroughtIn, err error) {
	defer debug.SetGCPercent(debug.SetGCPercent(scarce)) // a stick may bring years to a small machine
	b, err := d.box()
	if err != nil {
		return out, err
	}
	found, err := stick.Find(d.stick, dir, bundle.Magic())
	if err != nil {
		return out, troubled(err)
	}
	out.Cut = found.Cut
	for _, path := range found.Unread {
		out.Files = append(out.Files, Brought{File: path, Report: exchange.Report{Verdict: CarryUnread}})
	}
	if office, err := d.Office(); err != nil {
		return out, err
	} else if office {
		if out.Asks, err = d.Applicants(dir); err != nil {
			return out, err
		}
	}
	d.inOrder(found.Files)
	for _, f := range found.Files {
		x := Brought{File: f.Path, Kinds: map[model.Kind]int{}}
		raw, err := stick.Copy(d.stick, f, bundle.MostRead)
		if err != nil {
			var tr *stick.Trouble
			x.Verdict, x.Cause = exchange.Verdict(bundle.Damaged), err
			if errors.As(err, &tr) && tr.Code == "large" {
				x.Verdict = exchange.Verdict(bundle.TooLarge)
			}
			out.Files = append(out.Files, x)
			continue
		}
		x.Report = exchange.In(carrier{d}, raw, b.Identity())
		for _, v := range x.New {
			x.Kinds[v.Body().Kind]++
			x.News++
		}
		out.grew = append(out.grew, growthsIn(x.New)...)
		from, err := d.arrived(x.New)
		if err != nil {
			return out, err
		}
		if out.from == nil {
			out.from = map[model.ID]bool{}
		}
		maps.Copy(out.from, from)
		x.New = nil // what a year of a district holds is not kept in memory for its count
		if x.From, err = d.siteOf(x.Sender); err != nil {
			return out, err
		}
		if err := d.read(func(src register.Source) {
			dev, ok := src.Roster().Device(x.Sender)
			x.Gone = ok && dev.Removed
		}); err != nil {
			return out, err
		}
		if off := time.UnixMilli(x.Wall).Sub(d.Clock.Now().Wall); x.Wall != 0 && off > othersClock {
			x.Ahead = off // one that is behind may just be old
		}
		out.Files = append(out.Files, x)
	}
	if d.copied { // from now on we are told apart
		d.copied = false
		return out, d.newStream()
	}
	d.tryRemember()
	return out, nil
}

// inOrder puts the parts of one bundle in their order, so that nothing waits for what lies beside it; what cannot be read comes last, and is told of there.
func (d *Desk) inOrder(files []stick.Found) {
	at := map[string]bundle.Header{}
	for _, f := range files {
		raw, err := stick.Copy(d.stick, f, bundle.MostRead)
		if err != nil {
			continue
		}
		if p, err := bundle.LookBytes(raw); err == nil {
			at[f.Path] = p.Header
		}
	}
	slices.SortStableFunc(files, func(a, b stick.Found) int {
		x, okX := at[a.Path]
		y, okY := at[b.Path]
		switch {
		case okX != okY && okX:
			return -1
		case okX != okY:
			return 1
		case x.ID != y.ID:
			return bytes.Compare(x.ID[:], y.ID[:])
		}
		return int(x.Part) - int(y.Part)
	})
}

// siteOf is the name of the site that a stream works for.
func (d *Desk) siteOf(s entry.Stream) (name string, err error) {
	sites, err := d.Sites()
	if err != nil {
		return "", err
	}
	err = d.read(func(src register.Source) {
		dev, ok := src.Roster().Device(s)
		for _, x := range sites {
			if ok && x.ID == dev.Site {
				name = x.Name
			}
		}
	})
	return name, err
}

// Room says how many megabytes are free on the drive of a folder, in words of the catalogue; "" where it cannot be told.
func Room(dir string) string {
	if free := home.FreeBytes(dir); free >= 0 {
		return strconv.FormatInt(free>>20, 10)
	}
	return ""
}
