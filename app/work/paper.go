package work

import (
	"math"
	"strconv"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// Slip is the paper slip from the fire, typed in on one page. Minutes count from the
// lighting of the fire.
type Slip struct {
	Begin            BeginForm
	Lit              time.Time // day and hour as written
	VentFrom, VentTo float64   // both 0: not written
	Looks            []SlipLook
	SteamOut         float64
	Zero             float64
	Gauge            model.ID // that was watched; zero: the one that was on the pot that day
	ZeroSeen         bool     // needle on zero and no more steam, before the lid was opened
	Opened           float64
}

// SlipLook is one line of the slip.
type SlipLook struct {
	Minute float64
	Needle int64
	Lowest *int64 // since the line before; nil: left blank
}

// TypeIn records a whole cycle from a slip, marked "from paper" with both dates. It is judged
// like any other; it cannot pretend to be live.
func (d *Desk) TypeIn(pot Pot, site model.Site, s Slip) (model.ID, error) {
	if err := s.check(d.Clock.Now().Wall, d.ClockDoubtful()); err != nil {
		return model.ID{}, err
	}
	if err := checkLoad(s.Begin); err != nil {
		return model.ID{}, err
	}
	pot, err := d.gaugeOf(pot, s)
	if err != nil {
		return model.ID{}, err
	}
	if err := d.overlaps(pot, s); err != nil {
		return model.ID{}, err
	}
	if err := d.packedLater(s); err != nil {
		return model.ID{}, err
	}
	p, err := d.Plan(pot, site, s.Begin.Item, &s.Begin.Rest)
	if err != nil {
		return model.ID{}, err
	}
	if p.Plan.Refused != nil {
		return model.ID{}, refuse("no-mark")
	}
	id, drafts, err := d.begin(pot, s.Begin, p, model.FromPaper, s.Lit)
	if err != nil {
		return id, err
	}
	ref := []model.Ref{{Noun: model.NounCycle, ID: id}}
	step := func(code model.StepCode, minute float64, zero bool) {
		x := model.Step{Code: code, At: ms(minute), Source: model.FromPaper}
		if zero {
			x.HasNeedle, x.NeedleMilli = true, s.Begin.Rest
		}
		drafts = append(drafts, entry.Draft{Kind: model.KindStep, Targets: ref, Payload: x})
	}
	step(model.StepLit, 0, false)
	if s.VentTo > s.VentFrom {
		step(model.StepVentStart, s.VentFrom, false)
		step(model.StepVentEnd, s.VentTo, false)
	}
	if len(s.Looks) > 0 {
		r := model.Readings{Source: model.FromPaper}
		for _, l := range s.Looks {
			if err := checkNeedle(p.Frozen, &l.Needle); err != nil {
				return id, err
			}
			x := model.Reading{At: ms(l.Minute), NeedleMilli: l.Needle}
			if l.Lowest != nil {
				if *l.Lowest > l.Needle {
					return id, refuse("lowest-above-needle")
				}
				x.Answer, x.LowestMilli = model.Dipped, *l.Lowest
			}
			r.List = append(r.List, x)
		}
		drafts = append(drafts, entry.Draft{Kind: model.KindReadings, Targets: ref, Payload: r})
	}
	if s.SteamOut > 0 {
		step(model.StepSteamOut, s.SteamOut, false)
	}
	if s.ZeroSeen {
		step(model.StepZero, s.Zero, true)
	}
	if s.Opened > 0 {
		step(model.StepOpened, s.Opened, s.ZeroSeen)
	}
	reached := false
	for _, l := range s.Looks {
		reached = reached || l.Needle >= p.Frozen.RestartMilli
	}
	drafts = append(drafts, entry.Draft{Kind: model.KindCycleClosed, Targets: ref,
		Payload: model.CycleClosed{Outcome: model.RanThrough, At: ms(max(s.Opened, s.Zero, s.SteamOut)), ReachedMark: reached}})
	_, err = d.sign(drafts...)
	return id, err
}

// overlaps refuses a second record of hours that are already in the register: a load is judged once.
func (d *Desk) overlaps(pot Pot, s Slip) error {
	from := s.Lit
	to := from.Add(time.Duration(ms(s.last())) * time.Millisecond)
	ids, err := d.Store.CyclesOf(pot.ID, 200)
	if err != nil {
		return err
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return err
		}
		began, _, err := d.Began(c)
		if err != nil {
			return err
		}
		end := began
		for _, x := range c.Steps {
			end = latest(end, began.Add(time.Duration(x.At)*time.Millisecond))
		}
		for _, x := range c.Readings {
			end = latest(end, began.Add(time.Duration(x.At)*time.Millisecond))
		}
		if began.Before(to) && from.Before(end) {
			return refuse("slip-overlaps", strconv.FormatInt(c.Begun.Number, 10))
		}
	}
	return nil
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// last is the last minute written on the slip.
func (s Slip) last() float64 {
	last := max(s.VentTo, s.SteamOut, s.Zero, s.Opened)
	for _, l := range s.Looks {
		last = max(last, l.Minute)
	}
	return last
}

func ms(minute float64) int64 { return int64(math.Round(minute * 60000)) }

func (s Slip) check(now time.Time, doubtful bool) error {
	if s.Lit.After(now) && !doubtful {
		return refuse("slip-in-future")
	}
	last := 0.0
	for _, l := range s.Looks {
		if l.Minute < last {
			return refuse("time-backwards", short(l.Minute), short(last))
		}
		last = l.Minute
	}
	for i, m := range []float64{s.SteamOut, s.Zero, s.Opened} {
		if m != 0 && (m < last || (i == 1 && m == last)) { // zero is strictly after the last look
			return refuse("time-backwards", short(m), short(last))
		}
		last = max(last, m)
	}
	if (s.VentFrom == 0) != (s.VentTo == 0) {
		return refuse("vent-half")
	}
	if s.VentTo < s.VentFrom || s.VentFrom < 0 {
		return refuse("time-backwards", short(s.VentTo), short(s.VentFrom))
	}
	for _, l := range s.Looks {
		if l.Minute < 0 || l.Minute > 24*60 {
			return refuse("number")
		}
	}
	return nil
}

// CopyLine is what goes onto each label at release, for the pen: pack, load, date of sterilization, last
// day of use (days later, usable through that day; 0: none, for immediate use), check letter over it all.
func CopyLine(pack model.LoadPack, number int64, day time.Time, days int64) string {
	parts := []string{pack.Label, "L" + short(float64(number)), day.Format(time.DateOnly)}
	if days > 0 {
		parts = append(parts, LastDay(day, days).Format(time.DateOnly))
	}
	line := strings.Join(parts, " · ")
	return line + " · " + model.CheckLetter(line)
}

// CopyCheck is the check letter of that line alone, for the printed mark.
func CopyCheck(pack model.LoadPack, number int64, day time.Time, days int64) string {
	line := []rune(CopyLine(pack, number, day, days))
	return string(line[len(line)-1:])
}

// LastDay is the last day on which a pack may be used: so many days after sterilization, that day included.
func LastDay(sterilized time.Time, days int64) time.Time { return sterilized.AddDate(0, 0, int(days)) }

// packedLater refuses a pack that was packed after the fire of the slip was lit. An hour is left for a clock on the wall.
func (d *Desk) packedLater(s Slip) error {
	for _, x := range s.Begin.Packs {
		if x.ID.IsZero() {
			continue
		}
		p, err := d.Pack(x.ID)
		if isRefusal(err, "no-such-pack") {
			continue
		}
		if err != nil {
			return err
		}
		if p.Made == nil {
			continue
		}
		if at, known, err := d.Corrected(p.MadeBy); err != nil {
			return err
		} else if known && at.After(s.Lit.Add(time.Hour)) {
			return refuse("pack-packed-later", p.Label)
		}
	}
	return nil
}
