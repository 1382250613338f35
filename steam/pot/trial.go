package pot

import (
	"math"
	"math/rand/v2"
	"slices"

	"mvuke/steam"
)

// Trial is a whole simulated cycle: a pot, a plan and a person.
type Trial struct {
	Seed    uint64
	Body    Body
	Start   Start
	Fuel    Fuel
	Wood    float64 // kg put on at first
	Dial    Dial
	Mark    float64 // dial's unit
	Restart float64
	Limit   float64
	Minutes float64 // planned
	Vent    float64 // min
	Hand    Hand
	Mishaps []Mishap
	Set     steam.Celsius
}

// longest is when a cycle is given up, min.
const longest = 260.0

// Run lets the cycle burn. The same trial gives the same outcome.
func Run(t Trial) (Outcome, error) {
	rng := rand.New(rand.NewPCG(t.Seed, 0x6d76756b65))
	Prepare(&t.Body, &t.Start, &t.Fuel, &t.Dial, t.Mishaps, rng)
	if slices.Contains(t.Mishaps, Splutter) {
		t.Hand.Careful = false
	}
	p, err := New(t.Body, t.Start)
	if err != nil {
		return Outcome{}, err
	}
	o := &operator{Trial: t, rng: rng, scene: SceneOf(p, Light(t.Fuel, t.Wood, rng), t.Dial, t.Set, t.Mishaps)}
	o.event(Lit, false)
	for o.phase != ended && o.scene.Minutes < longest {
		o.watch()
		o.scene.Pass(5)
		o.truth()
		if p.Dry {
			break
		}
	}
	st := p.State()
	o.out.F0, o.out.F0Pack, o.out.Dry, o.out.WaterLeft = st.F0, st.F0In, p.Dry, st.Water
	o.out.Burnt, o.out.Minutes = o.scene.Fire.Burnt, o.scene.Minutes
	return o.out, nil
}

type phase int

const (
	heating phase = iota
	venting
	rising
	holding
	cooling
	exhausting
	ended
)

type operator struct {
	Trial
	rng   *rand.Rand
	scene *Scene
	phase phase
	out   Outcome

	since            float64 // minute at which the phase began
	steady           float64 // minute since which the steam is steady
	glanced          float64 // minute of the last glance
	needle           float64 // at that glance
	next             float64 // minute of the next written look
	start            float64 // minute of the written look that began the hold; < 0: none
	lastLook, dipped float64
	minute           float64 // next row of truth
}

// watch is one moment of attention, every five seconds.
func (o *operator) watch() {
	s := o.scene
	if s.Away() {
		return
	}
	switch o.phase {
	case heating:
		o.waitForSteam()
	case venting:
		if s.Minutes-o.since >= o.Vent*o.Hand.Vent {
			s.Opening = 0
			o.event(VentEnd, false)
			o.enter(rising)
			o.start, o.next = -1, s.Minutes+2
		}
	case rising, holding:
		o.tend()
		o.write()
	case cooling:
		if s.Minutes-o.since >= 1 {
			s.Opening = exhaustOpening
			o.event(SteamOut, false)
			o.enter(exhausting)
		}
	case exhausting:
		if s.Pot.State().Over < 800 {
			if o.rng.Float64() < o.Hand.Zero {
				o.event(Zero, true)
			}
			o.event(Opened, true)
			o.enter(ended)
		}
	}
}

// exhaustOpening is the air valve a quarter turn open: the steam of a 40-litre pot then takes 5 to 6
// minutes to leave (common practice, no source).
const exhaustOpening = 0.122

func (o *operator) enter(p phase) { o.phase, o.since = p, o.scene.Minutes }

func (o *operator) waitForSteam() {
	jet := o.scene.Jet()
	good := jet == JetSteady || (jet == JetSplutter && !o.Hand.Careful)
	switch {
	case !good:
		o.steady = o.scene.Minutes
	case o.scene.Minutes-o.steady >= 0.5:
		o.event(VentStart, false)
		o.enter(venting)
	}
	o.feed(0.5)
}

func (o *operator) read() float64 { return o.scene.Dial.Read(o.scene.Pot.State().Over, o.rng) }

func (o *operator) event(code string, look bool) {
	e := Event{Minute: o.scene.Minutes, Code: code}
	if look {
		n := o.read()
		e.Needle = &n
	}
	o.out.Events = append(o.out.Events, e)
}

// feed keeps at least so much wood on the fire, kg.
func (o *operator) feed(least float64) {
	if f := o.scene.Fire; f.Fuel.Burn > 0 && f.Bed+f.Fresh < least {
		f.Feed(least)
	}
}

// tend holds the needle at the mark by the draught, looking ahead by the lag of the fire.
func (o *operator) tend() {
	s := o.scene
	gone := (s.Minutes - o.glanced) * 60
	if gone < o.Hand.Glance {
		return
	}
	n := s.Needle()
	rise := (n - o.needle) / gone
	o.glanced, o.needle = s.Minutes, n
	if o.rng.Float64() < o.Hand.Forget {
		return
	}
	aim := o.Mark + o.Dial.Line/4
	ahead := n + rise*(o.Body.FireLag+o.Hand.Glance/2)
	hold := o.Body.Loss * float64(o.Set-o.Body.Around)
	full := s.Fire.Strength() / (smoulder + (1-smoulder)*s.Fire.Draught) // with the draught open
	want := hold + (aim-ahead)*o.Dial.Unit.Pascals()/6500*o.heat()/120   // back to the mark within two minutes
	if s.Fire.Fuel.Burn > 0 {
		if full < 1.5*hold || o.phase == rising && n < aim*0.7 {
			o.feed(0.45)
		}
	} else {
		full = s.Fire.Most
	}
	s.Fire.Draught = min(max((want/max(full, 1)-smoulder)/(1-smoulder), 0), 1)
}

// heat is the heat of one kelvin, J/K, as an experienced hand feels it.
func (o *operator) heat() float64 {
	return o.Body.Metal + o.Body.Load + o.Body.Packs.Heat + o.Start.Water*4200
}

// write is the look that is written down, with its answer.
func (o *operator) write() {
	s := o.scene
	if s.Minutes < o.next {
		return
	}
	ask := o.Hand.Ask
	if o.phase == rising {
		ask = 2 // near the line one looks more often
	}
	o.next = s.Minutes + ask + o.rng.Float64()*o.Hand.Late
	if o.rng.Float64() < o.Hand.Miss {
		return
	}
	n := o.read()
	if o.phase == rising && n < o.Restart {
		return
	}
	l := Look{Minute: s.Minutes, Needle: n, Honest: true}
	lowest := s.Lowest()
	if o.start >= 0 {
		o.answer(&l, lowest)
	}
	o.out.Looks = append(o.out.Looks, l)
	o.count(l)
}

// answer is what the person says of the time since the last look.
func (o *operator) answer(l *Look, lowest float64) {
	half := o.Dial.Line / 2
	low := math.Floor((lowest+1e-9)/half) * half // read downwards
	careless := o.rng.Float64() < o.Hand.Swear
	switch {
	case careless:
		l.Answer, l.Honest = Stayed, lowest >= o.Restart-half
	case !o.Hand.Careful || o.scene.Minutes-o.lastLook > 12:
		l.Answer = Away
	case lowest >= o.Restart:
		l.Answer = Stayed
	default:
		l.Answer, l.Lowest = Dipped, min(low, l.Needle)
	}
}

// count keeps the minutes held as the person counts them.
func (o *operator) count(l Look) {
	o.lastLook = l.Minute
	if l.Needle < o.Restart {
		o.start = -1
		return
	}
	if o.start < 0 || (l.Answer == Dipped && l.Lowest < o.Restart) {
		o.start = l.Minute
		if o.phase == rising {
			st := o.scene.Pot.State()
			o.out.Reached, o.out.AirAtHold, o.out.PackAir = true, st.Air, st.PackAir
			o.enter(holding)
		}
	}
	if l.Minute-o.start >= o.Minutes+o.Hand.Extra-o.Hand.Short {
		o.out.Finished = true
		o.scene.Fire.Draw()
		o.event(Drawn, false)
		o.enter(cooling)
	}
}

func (o *operator) truth() {
	s := o.scene
	if s.Minutes < o.minute {
		return
	}
	o.minute = math.Floor(s.Minutes) + 1
	st := s.Pot.State()
	o.out.PackMax = max(o.out.PackMax, st.Pack)
	o.out.Truth = append(o.out.Truth, Truth{Minute: s.Minutes, Chamber: st.T, Pack: st.Pack, Over: st.Over, Air: st.Air, PackAir: st.PackAir,
		Water: st.Water, Heat: st.Heat})
}
