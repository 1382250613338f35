package pot

import (
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
	rng := newRand(t.Seed)
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

	since    float64 // minute at which the phase began
	steady   float64 // minute since which the steam is steady
	glanced  float64 // minute of the last glance
	needle   float64 // at that glance
	next     float64 // minute of the next written look
	start    float64 // minute of the written look that began the hold; < 0: none
	lastLook float64
	tamed    bool    // the draught was closed in the rise
	minute   float64 // next row of truth
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
		if s.Pot.State().Over < 800 && s.Dial.Read(s.Pot.State().Over, nil) <= max(s.Dial.ReadRest(), s.Dial.Read(0, nil)) {
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
	o.feed(strongFire)
}

func (o *operator) read() float64 { return o.scene.Dial.Read(o.scene.Pot.State().Over, o.rng) }

func (o *operator) event(code string, look bool) {
	e := Event{Minute: o.scene.Minutes, Code: code}
	if look {
		n := o.scene.Dial.Read(o.scene.Pot.State().Over, nil) // at rest there is time to look well
		e.Needle = &n
	}
	o.out.Events = append(o.out.Events, e)
}

// newRand is the chance of a seed; the same seed, the same chance.
func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x6d76756b65)) }
