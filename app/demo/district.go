package demo

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// The invented district: eight clinics between 100 m and 3,500 m and an office, two years of work made with the simulated pot and its mishaps, carried by sticks. No person or place in it is
// real.

// sites are the clinics, by height.
var sites = []struct {
	name   string
	height int64
	person string
}{
	{"Senga Ferry", 100, "Sister Wema"}, {"Lower Tesharo", 420, "Bahati"}, {"Mbwari", 900, "Sister Neema"}, {"Kimbala", 1180, "Joseph"},
	{"Oltana", 1400, "Sister Zuri"}, {"Ngareli", 1850, "Amani"}, {"Sotwe Ridge", 2400, "Sister Imara"}, {"High Olmara", 3500, "Tumaini"},
}

// DistrictName is what the office calls itself.
const DistrictName = "Tesharo district"

// clinic is one open register of the district.
type clinic struct {
	name    string
	dir     string
	d       *work.Desk
	site    model.ID
	rng     *rand.Rand
	tests   []model.ID       // laid in, not yet read
	live    []model.ID       // released packs that nobody used yet
	wrapped []model.LoadPack // of loads that are not sterile: they are unwrapped in the next week
	uses    int
}

// districtOf is the district while it is made.
type districtOf struct {
	dir     string
	stick   string
	clk     *Clock
	office  *clinic
	clinics []*clinic
	say     func(done, all int)
}

// District makes the invented district in an empty folder: a folder for the office, one for each clinic, and one for the stick. weeks is how long its past is; it ends on the morning before now. The same seed
// gives the same story. progress is told of each week.
func District(dir string, seed uint64, weeks int, now time.Time, progress func(done, all int)) (err error) {
	if names, err := os.ReadDir(dir); err == nil && len(names) > 0 {
		return errors.New("demo: " + dir + " is not empty; choose an empty folder")
	}
	morning := time.Date(now.Year(), now.Month(), now.Day(), 7, 0, 0, 0, now.Location()) // at whatever hour it is made, its people work by day
	if morning.After(now) {
		morning = morning.AddDate(0, 0, -1)
	}
	x := &districtOf{dir: dir, stick: filepath.Join(dir, "stick"), clk: NewClock(morning.AddDate(0, 0, -7*weeks-4)), say: progress}
	if err := os.MkdirAll(x.stick, 0o700); err != nil {
		return err
	}
	defer x.asOldAs(x.clk.Wall)(&err)
	if err := x.found(seed); err != nil {
		return err
	}
	for w := range weeks {
		if err := x.week(w, weeks); err != nil {
			return fmt.Errorf("demo: week %d: %w", w, err)
		}
		if progress != nil {
			progress(w+1, weeks)
		}
	}
	return x.ending()
}

// asOldAs has the program of the story be as old as the story, until what it gives is called.
func (x *districtOf) asOldAs(start time.Time) func(*error) {
	built := work.Built
	work.Built = start.AddDate(0, -1, 0)
	return func(err *error) { work.Built, *err = built, errors.Join(*err, x.close()) }
}

func (x *districtOf) close() error {
	var errs []error
	for _, c := range append(x.clinics, x.office) {
		if c != nil && c.d != nil {
			errs = append(errs, c.d.Close())
		}
	}
	return errors.Join(errs...)
}

// folder is a clinic's name as a folder's.
func folder(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "-") }

func (x *districtOf) begin(name string, height int64, person string, office bool, seed uint64) (*clinic, error) {
	c := &clinic{name: name, dir: filepath.Join(x.dir, folder(name)), rng: rand.New(rand.NewPCG(seed, uint64(height)+1))}
	if office {
		c.dir = filepath.Join(x.dir, "office")
	}
	if err := x.open(c); err != nil {
		return c, err
	}
	a := Answers("en")
	a.Site.Name, a.Site.HeightM, a.Site.How, a.Site.WithinM, a.Office = name, height, model.BySurvey, 10, office
	a.Gauge.Serial, a.Person.Name = fmt.Sprint(2200+height/10), person
	if err := c.d.SetUp(a); err != nil {
		return c, err
	}
	if office {
		return c, nil
	}
	_, err := c.d.AddPerson(model.Person{Name: "Night duty", Roles: []model.Role{model.RoleReleaser}, Language: "en"})
	return c, errors.Join(err, lists(c.d), c.d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "the pot was proven on paper before the register began"}))
}

func (x *districtOf) open(c *clinic) (err error) {
	if c.d, err = work.Open(c.dir, work.Options{Clock: x.clk}); err != nil {
		return err
	}
	people, err := c.d.People()
	if err == nil && len(people) > 0 {
		c.d.Act(people[0].ID)
	}
	return err
}

// found sets the office and the clinics up, and joins them.
func (x *districtOf) found(seed uint64) (err error) {
	if x.office, err = x.begin(DistrictName, 0, "T. — officer", true, seed); err != nil {
		return err
	}
	for _, s := range sites {
		c, err := x.begin(s.name, s.height, s.person, false, seed)
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		x.clinics = append(x.clinics, c)
		if err := errors.Join(x.join(c), x.settle(c), x.carry(x.office, c)); err != nil {
			return fmt.Errorf("%s joins: %w", s.name, err)
		}
	}
	return nil
}

// join carries a stick to the office and back, with the words compared.
func (x *districtOf) join(c *clinic) error {
	if err := x.wipe(); err != nil {
		return err
	}
	if _, err := c.d.Ask(x.stick); err != nil {
		return err
	}
	asks, err := x.office.d.Applicants(x.stick)
	if err != nil || len(asks) != 1 {
		return errors.Join(err, errors.New("demo: nobody asks"))
	}
	if _, err := x.office.d.TakeIn(asks[0], asks[0].Code, x.stick); err != nil {
		return err
	}
	in, err := c.d.BringIn(x.stick)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(in.Files, func(f work.Brought) bool { return f.Invited != nil })
	if i < 0 {
		return errors.New("demo: no answer on the stick")
	}
	c.site = asks[0].Site
	return errors.Join(c.d.Accept(in.Files[i].Invited, true), x.office.d.Prove(c.site))
}

// settle brings in what the stick of a joining holds, which belongs to the clinic now, and lets the office hear of it.
func (x *districtOf) settle(c *clinic) error {
	if _, err := c.d.BringIn(x.stick); err != nil {
		return err
	}
	return x.carry(c, x.office)
}

func (x *districtOf) wipe() error {
	return errors.Join(os.RemoveAll(x.stick), os.MkdirAll(x.stick, 0o700))
}

// carry takes a stick from one register to another.
func (x *districtOf) carry(from, to *clinic) error {
	if err := x.wipe(); err != nil {
		return err
	}
	site, err := to.d.SiteID()
	if err != nil {
		return err
	}
	if _, err := from.d.TakeOut(site, x.stick, false, nil); err != nil {
		return err
	}
	if to == x.office && to.d.AskDate() { // it may have written nothing for months
		if err := errors.Join(to.d.AnswerDate(x.clk.Now().Wall), to.d.Close(), x.open(to)); err != nil { // it is put away until the next round
			return err
		}
	}
	in, err := to.d.BringIn(x.stick)
	if err != nil {
		return err
	}
	for _, f := range in.Files {
		if f.Verdict != work.CarryNew && f.Verdict != work.CarryHave {
			return fmt.Errorf("demo: from %s to %s: %s %w", from.name, to.name, f.Verdict, f.Cause)
		}
	}
	return nil
}
