package pot

import "math"

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
	aim := o.Mark + o.Dial.Line/4 - o.Hand.Aim*(o.Mark-o.Restart)
	ahead := n + rise*(o.Body.FireLag+o.Hand.Glance/2)
	hold := o.Body.Loss * float64(o.Set-o.Body.Around)
	if o.phase == rising && !o.tamed && ahead < aim {
		s.Fire.Draught = 1
		o.feed(strongFire)
		return
	}
	if o.phase == rising && !o.tamed {
		o.tamed = true
		o.event(Tamed, false)
	}
	o.feed(1.5 * hold)
	want := hold + (aim-ahead)*o.Dial.Unit.Pascals()/6500*o.heat()/120 // back to the mark within two minutes
	s.Fire.Draught = min(max((want/max(s.Fire.Full(), 1)-smoulder)/(1-smoulder), 0), 1)
}

// strongFire is what a hand wants while it heats, W.
const strongFire = 1900

// feed puts wood on when the fire, with the draught open, would give less than so many watts.
func (o *operator) feed(least float64) {
	if f := o.scene.Fire; f.Fuel.Burn > 0 && f.Full() < least && f.Fresh < 0.6 && f.Bed < 4 {
		f.Feed(0.35)
		o.event(Fed, false)
	}
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
		ask = min(ask, 2) // near the line one looks more often
	}
	o.next = s.Minutes + ask + o.rng.Float64()*o.Hand.Late
	if o.rng.Float64() < o.Hand.Miss {
		return
	}
	n := o.read()
	if o.phase == rising && n < o.Restart/2 {
		return
	}
	st := s.Pot.State()
	l := Look{Minute: s.Minutes, Needle: n, Honest: true, F0: st.F0, True: st.T}
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
