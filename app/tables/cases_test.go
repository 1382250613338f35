package tables

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/steam"
)

// Judging cases that come as a log; the number stands in the test's name. Figures are bare
// physics: an exact gauge, IF97, ISA atmosphere.

// hold writes a whole good log around a hold: vent of 10 minutes, the looks given, zero seen.
func hold(looks string) string {
	lines := strings.Split(strings.TrimSpace(looks), "\n")
	last := strings.SplitN(lines[len(lines)-1], ",", 2)[0]
	var end float64
	fmt.Sscan(last, &end)
	first := strings.SplitN(lines[0], ",", 2)[0]
	// rise and fall are drawn as jumps, so that the figures are those of the hold alone
	return "minute,gauge,lowest,event\n0,0,,vent-start\n10,0,,vent-end\n" + first + ",0\n" + strings.TrimSpace(looks) +
		fmt.Sprintf("\n%g,0,,steam-out\n%g,0,,zero\n%g,0,,open\n", end, end+7, end+10)
}

// steady is a hold looked at every minute.
func steady(from, minutes, needle float64) string {
	var b strings.Builder
	for m := 0.0; m <= minutes; m++ {
		fmt.Fprintf(&b, "%g,%g,%g\n", from+m, needle, needle)
	}
	return b.String()
}

func judge(t *testing.T, log string, height steam.Metres, unit steam.Unit, item model.Item) assess.Result {
	t.Helper()
	l, err := ReadLog(strings.NewReader(log), 0)
	if err != nil {
		t.Fatal(err)
	}
	class := 0.0
	in, err := assess.Bare{Site: steam.Site{Height: height, Within: steam.MapWithin, Weather: steam.TropicsWeather},
		Unit: unit, Item: item, Rules: model.Rules(nil), Class: &class}.Plan()
	if err != nil {
		t.Fatal(err)
	}
	in.Readings, in.Steps = l.Readings, l.Steps
	r, err := assess.Judge(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func want(t *testing.T, r assess.Result, v model.Verdict, held, e121 float64) {
	t.Helper()
	if r.Verdict != v {
		t.Errorf("verdict %s, want %s: %v", r.Verdict, v, r.Reasons)
	}
	if held >= 0 && math.Abs(r.Held-held) > 0.2 {
		t.Errorf("held %.2f, want %.1f", r.Held, held)
	}
	if e121 >= 0 && math.Abs(r.E121-e121) > 0.2 {
		t.Errorf("E121 %.2f, want %.1f", r.E121, e121)
	}
}

func has(r assess.Result, code string) (model.Reason, bool) {
	i := slices.IndexFunc(r.Reasons, func(x model.Reason) bool { return x.Code == code })
	if i < 0 {
		return model.Reason{}, false
	}
	return r.Reasons[i], true
}

func TestCase003FifteenPsiAt1800(t *testing.T) {
	r := judge(t, hold(steady(15, 30, 15)), 1800, steam.Psi, model.Wrapped)
	want(t, r, model.Failed, 0, 14.2)
	if math.Abs(r.F0-13.87) > 0.05 {
		t.Errorf("F0 %.2f", r.F0)
	}
	b, ok := has(r, assess.BelowLine)
	if !ok || b.Args[1] != "117.75" || !strings.HasPrefix(b.Args[3], "17.9") {
		t.Errorf("the right mark is not named: %v", b)
	}
}

func TestCase005FifteenPsiAtSeaLevel(t *testing.T) {
	r := judge(t, hold(steady(15, 30, 15)), 0, steam.Psi, model.Wrapped)
	want(t, r, model.Shown, 30, 29.7)
	if x, ok := has(r, assess.ToleranceUsed); !ok || x.Args[0] != "0.05" || x.Args[1] != "0.10" {
		t.Errorf("the tolerance must be stated: %v", r.Reasons)
	}
}

func TestCase010SafeSideAltitude(t *testing.T) {
	r := judge(t, hold(steady(15, 30, 127.5)), 500, steam.KPa, model.Wrapped)
	want(t, r, model.Shown, 30, -1)
	if math.Abs(float64(r.Level.Nominal)-123.7) > 0.1 {
		t.Errorf("%v", r.Level.Nominal)
	}
}

func TestCase018AirNotVented(t *testing.T) {
	log := "minute,gauge,thermometer,event\n0,0,,vent-start\n10,0,,vent-end\n"
	for m := 15; m <= 45; m++ {
		log += fmt.Sprintf("%d,15,112,\n", m)
	}
	r := judge(t, log+"46,,,steam-out\n52,0,,zero+open\n", 0, steam.Psi, model.Wrapped)
	x, ok := has(r, assess.AirSuspected)
	if r.Verdict != model.Failed || !ok {
		t.Fatalf("%s %v", r.Verdict, r.Reasons)
	}
	var share float64
	if fmt.Sscan(x.Args[2], &share); math.Abs(share-50) > 3 {
		t.Errorf("about half the air: %v", x.Args)
	}
	// no thermometer and no vent: not releasable on the gauge alone
	none := strings.NewReplacer("0,0,,vent-start\n", "", "10,0,,vent-end\n", "").Replace(hold(steady(15, 30, 15.2)))
	r = judge(t, none, 0, steam.Psi, model.Wrapped)
	if _, ok := has(r, assess.VentMissing); r.Verdict != model.NotKnown || !ok || r.Guaranteed != nil {
		t.Errorf("%s %v %v", r.Verdict, r.Reasons, r.Guaranteed)
	}
}

func TestCase019HeatUpCredit(t *testing.T) {
	r := judge(t, "minute,gauge\n0,60\n5,60\n5,95\n10,95\n10,115\n15,115\n", 1800, steam.KPa, model.Wrapped)
	want(t, r, model.Failed, 0, 5.4)
}

func TestCase021FullRestart(t *testing.T) {
	log := steady(15, 12, 117.5) + steady(27, 6, 80) + steady(33, 30, 118)
	r := judge(t, hold(log), 1200, steam.KPa, model.Wrapped)
	want(t, r, model.Shown, 30, 42.8)
	if _, ok := has(r, assess.Restarted); !ok {
		t.Errorf("the restart is not told: %v", r.Reasons)
	}
}

func TestCase022FragmentsAreNotAdded(t *testing.T) {
	log := steady(15, 12, 117.5) + steady(27, 6, 80) + steady(33, 18, 118)
	r := judge(t, hold(log), 1200, steam.KPa, model.Wrapped)
	want(t, r, model.Failed, 18, 30.5)
}

func TestCase024OneKilopascalShort(t *testing.T) {
	r := judge(t, hold(steady(15, 30, 122.5)), 1800, steam.KPa, model.Wrapped)
	want(t, r, model.Failed, 0, 28.9)
	if x, ok := has(r, assess.BelowLine); !ok || x.Args[1] != "120.84" {
		t.Errorf("%v", r.Reasons)
	}
}

func TestCase025ReadingGap(t *testing.T) {
	r := judge(t, hold("15,137\n45,137"), 3200, steam.KPa, model.Wrapped)
	want(t, r, model.NotKnown, 0, -1)
	if _, ok := has(r, assess.Gap); !ok {
		t.Errorf("%v", r.Reasons)
	}
}

func TestCase027Unwrapped(t *testing.T) {
	r := judge(t, hold(steady(15, 20, 137)), 3200, steam.KPa, model.Unwrapped)
	want(t, r, model.Shown, 20, 20.2)
	if _, ok := has(r, assess.ImmediateUse); !ok {
		t.Errorf("%v", r.Reasons)
	}
}

func TestCase028MixedLoadIsJudgedAsWrapped(t *testing.T) {
	r := judge(t, hold(steady(15, 20, 137)), 3200, steam.KPa, model.Wrapped)
	want(t, r, model.Failed, 20, -1)
}

func TestCase038OpenedUnderPressure(t *testing.T) {
	log := strings.Replace(hold(steady(15, 30, 125)), "55,0,,open", "53,20,,open", 1)
	log = strings.Replace(log, "52,0,,zero\n", "", 1)
	r := judge(t, log, 1800, steam.KPa, model.Wrapped)
	if _, ok := has(r, assess.OpenedUnder); r.Verdict != model.Failed || !ok {
		t.Errorf("%s %v", r.Verdict, r.Reasons)
	}
}

func TestZeroNotSeenIsNotKnown(t *testing.T) {
	log := strings.Replace(hold(steady(15, 30, 125)), "52,0,,zero\n", "", 1)
	r := judge(t, log, 1800, steam.KPa, model.Wrapped)
	if _, ok := has(r, assess.ZeroMissing); r.Verdict != model.NotKnown || !ok {
		t.Errorf("%s %v", r.Verdict, r.Reasons)
	}
}

// No look left out, no dip and no gap may ever make the verdict better.
func TestWorseRecordsNeverJudgeBetter(t *testing.T) {
	rank := map[model.Verdict]int{model.Failed: 0, model.NotKnown: 1, model.Shown: 2}
	base := judge(t, hold(steady(15, 30, 125)), 1800, steam.KPa, model.Wrapped)
	if base.Verdict != model.Shown {
		t.Fatal(base.Reasons)
	}
	full := hold(steady(15, 30, 125))
	lines := strings.Split(strings.TrimSpace(full), "\n")
	for i := 1; i < len(lines); i++ {
		r := judge(t, strings.Join(slices.Delete(slices.Clone(lines), i, i+1), "\n"), 1800, steam.KPa, model.Wrapped)
		if rank[r.Verdict] > rank[base.Verdict] || r.Held > base.Held {
			t.Errorf("without line %d: %s", i+1, r.Verdict)
		}
		dipped := strings.Replace(full, lines[i], strings.Replace(lines[i], ",125,125", ",125,100", 1), 1)
		if dipped != full && i > 4 { // the first look has nothing before it
			if r := judge(t, dipped, 1800, steam.KPa, model.Wrapped); r.Verdict != model.Failed {
				t.Errorf("a dip before line %d: %s", i+1, r.Verdict)
			}
		}
	}
}
