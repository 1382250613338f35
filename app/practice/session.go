package practice

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
	"mvuke/steam"
	"mvuke/steam/pot"
)

// Session is a person at a pot that burns only here.
type Session struct {
	Desk   *work.Desk // its own register, on a root that is thrown away
	Clock  *Clock
	Scene  *pot.Scene
	Lesson Lesson
	Seed   uint64

	LidOn  bool
	Called bool // somebody calls: the person is to go

	dir  string
	rng  *rand.Rand
	last model.Moment
	seen int // entries of the cycle already noted
	read struct {
		acts  uint64
		cycle register.Cycle
		ok    bool
	}
	notes notes
	gone  bool
	trueM int64 // the height that there really is
	start pot.Start
}

// dial is that of the practice pot.
var dial = steam.Gauge{Unit: steam.KPa, Span: 250, Line: 10, Class: 2.5}

// limitPa is the limit of the practice pot; leastML its least water.
const (
	limitPa = 180_000
	valvePa = 175_000
	leastML = 2500
)

// Start sets a practice up: a register in a folder of its own, a pot, and a clock that stands. place is what its clinic is called, with
// the word for practice in it.
func Start(l Lesson, seed uint64, language, person, place string, real model.Clock) (*Session, error) {
	sweep()
	dir, err := os.MkdirTemp("", folder+"*")
	if err != nil {
		return nil, err
	}
	s := &Session{Lesson: l, Seed: seed, Clock: NewClock(real), dir: dir, rng: rand.New(rand.NewPCG(seed, 11)), LidOn: true, trueM: l.HeightM}
	if s.Desk, err = work.Open(dir, work.Options{Clock: s.Clock, Practice: true}); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	if err := s.setUp(language, person, place); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	s.last = s.Clock.Now()
	return s, nil
}

// folder begins the names of practice folders.
const folder = "mvuke-practice-"

// sweep takes away what a practice that was cut short has left, if nobody has it open.
func sweep() {
	left, err := filepath.Glob(filepath.Join(os.TempDir(), folder+"*"))
	if err != nil {
		return
	}
	for _, dir := range left {
		if fi, err := os.Lstat(dir); err != nil || !fi.IsDir() {
			continue // a link leads who knows where
		}
		d, err := work.Open(dir, work.Options{Practice: true})
		if err != nil {
			continue // open in another window, or not ours to read
		}
		if d.ThrowAway() {
			_ = errors.Join(d.Forget(), d.Close(), os.RemoveAll(dir)) // what stays is swept another time
		} else {
			_ = d.Close()
		}
	}
}

func (s *Session) setUp(language, person, place string) error {
	told := s.trueM
	if slices.Contains(s.Lesson.Mishaps, pot.WrongCard) {
		told = int64(float64(told) * float64(wrongHeight))
	}
	err := s.Desk.SetUp(work.Answers{Language: language,
		Site:   model.Site{Name: place, HeightM: told, How: model.ByMap, WithinM: 50, WeatherPermille: 15},
		Pot:    model.Sterilizer{Name: "1", LimitPa: limitPa, ValvePa: valvePa, LeastWaterML: leastML},
		Gauge:  model.GaugeLooks{Serial: "0", Unit: string(dial.Unit), SpanMilli: int64(dial.Span * 1000), LineMilli: int64(dial.Line * 1000), ClassMilli: int64(dial.Class * 1000)},
		Person: model.Person{Name: person}})
	if err != nil {
		return err
	}
	air, err := steam.Site{Height: steam.Metres(s.trueM), Within: steam.MapWithin, Weather: steam.TropicsWeather}.Air()
	if err != nil {
		return err
	}
	b := pot.Reference()
	b.Ambient = air.Nominal * steam.Absolute(1+0.01*(2*s.rng.Float64()-1))
	b.ReliefAt = valvePa
	b.Loss = 5.5 + 2*s.rng.Float64()
	d := pot.Faulty(dial.Unit, dial.Span, dial.Line, dial.Class, s.rng)
	d.Zero = 0 // rests on zero, unless the lesson is about a needle that does not
	start, fuel := pot.Start{T: 22, Water: 2.6, Air: true}, pot.Wood
	fuel.Efficiency = pot.Range{Low: 0.2, High: 0.3}
	pot.Prepare(&b, &start, &fuel, &d, s.Lesson.Mishaps, s.rng)
	s.start = start
	p, err := pot.New(b, start)
	if err != nil {
		return err
	}
	s.Scene = pot.SceneOf(p, pot.Light(fuel, 0, s.rng), d, steam.Celsius(121), s.Lesson.Mishaps)
	s.Scene.Opening = 1
	return nil
}

// Close throws the register away.
func (s *Session) Close() error {
	return errors.Join(s.Desk.Close(), s.Desk.Forget(), os.RemoveAll(s.dir))
}

// Tick lets the pot burn up to the clock, and notes what the person has done since.
func (s *Session) Tick() {
	now := s.Clock.Now()
	gone, _ := model.Since(s.last, now)
	s.last = now
	s.Scene.Pass(gone.Seconds())
	if s.Scene.Away() && !s.gone {
		s.gone, s.Called = true, true
	}
	s.notice()
}

// Under is the cycle of this practice; ok is false before it is begun. It is read anew only after an act.
func (s *Session) Under() (c register.Cycle, ok bool) {
	acts := s.Desk.Acts()
	if acts == s.read.acts {
		return s.read.cycle, s.read.ok
	}
	s.read.acts, s.read.ok = acts, false
	ids, err := s.Desk.LatestCycles(1)
	if err != nil || len(ids) == 0 {
		return c, false
	}
	c, err = s.Desk.Cycle(ids[0])
	s.read.cycle, s.read.ok = c, err == nil
	return c, err == nil
}

// BoilingNow is what a thermometer in the open pot would show when it boils: it tells the height.
func (s *Session) BoilingNow() steam.Celsius {
	t, err := steam.Tsat(s.Scene.Pot.Body.Ambient)
	if err != nil {
		return 0
	}
	return t
}

// Go leaves the pot as it is for a while, and comes back.
func (s *Session) Go() {
	s.Called = false
	switch {
	case s.Lit():
		s.notes.leftAlone = true
	case s.Scene.Opening >= 0.5 && s.notes.holdBegan:
		s.notes.leftSafely = true
	}
	s.Clock.Skip(pot.AwayMinutes * minuteLong)
	s.Tick()
}
