package assess

import (
	"testing"

	"mvuke/model"
	"mvuke/steam"
)

// sixty is a cycle looked at sixty times.
func sixty(t testing.TB) Input {
	class := 2.5
	in, err := Bare{Site: steam.Site{Height: 1860, Within: steam.MapWithin, Weather: steam.TropicsWeather}, Unit: steam.KPa,
		Item: model.Wrapped, Rules: model.Rules(nil), Class: &class, Span: 250, Line: 10}.Plan()
	if err != nil {
		t.Fatal(err)
	}
	in.Steps = []model.Step{{Code: model.StepVentStart, At: 0}, {Code: model.StepVentEnd, At: 11 * 60000},
		{Code: model.StepZero, At: 90 * 60000}, {Code: model.StepOpened, At: 93 * 60000}}
	for m := int64(0); m < 60; m++ {
		in.Readings = append(in.Readings, model.Reading{At: (20 + m) * 60000, NeedleMilli: 140_000, Answer: model.Stayed})
	}
	return in
}

func TestJudgeIsTheSameEachTime(t *testing.T) {
	in := sixty(t)
	a, err := Judge(in)
	if err != nil || a.Verdict != model.Shown {
		t.Fatalf("%s %v %v", a.Verdict, a.Reasons, err)
	}
	b, _ := Judge(in)
	if a.E121Milli != b.E121Milli || a.GuaranteedMilli != b.GuaranteedMilli || len(a.Reasons) != len(b.Reasons) {
		t.Error("two judgements of one cycle differ")
	}
}

// Each missing piece alone must take "shown" away, and no missing piece may turn "failed" into anything else.
func TestEveryMissingPieceCosts(t *testing.T) {
	for name, spoil := range map[string]func(*Input){
		"rest not noted":       func(in *Input) { in.Rest = nil },
		"rest off zero":        func(in *Input) { r := int64(20_000); in.Rest = &r },
		"no vent":              func(in *Input) { in.Steps = in.Steps[2:] },
		"vent too short":       func(in *Input) { in.Steps[1].At = 9 * 60000 },
		"vent after the hold":  func(in *Input) { in.Steps[0].At, in.Steps[1].At = 85*60000, 96*60000 },
		"vent before the fire": func(in *Input) { in.Steps = append(in.Steps, model.Step{Code: model.StepLit, At: 12 * 60000}) },
		"vent with a rise": func(in *Input) {
			in.Readings = append([]model.Reading{{At: 5 * 60000, NeedleMilli: 90_000}}, in.Readings...)
		},
		"unseen for an hour": func(in *Input) {
			in.Steps[1].At = 11 * 60000
			for i := range in.Readings {
				in.Readings[i].At += 60 * 60000
			}
			in.Steps[2].At, in.Steps[3].At = 150*60000, 153*60000
		},
		"off, nobody knows how long": func(in *Input) {
			in.Breaks = []model.Interrupted{{From: 40 * 60000, To: 40 * 60000, Unproven: true}}
			in.Readings = in.Readings[:45]
		},
		"vent clock unproven":  func(in *Input) { in.Steps[1].Unproven = true },
		"no zero":              func(in *Input) { in.Steps = append(in.Steps[:2:2], in.Steps[3]) },
		"zero before the hold": func(in *Input) { in.Steps[2].At = 15 * 60000 },
		"needle not back":      func(in *Input) { in.Steps[2].HasNeedle, in.Steps[2].NeedleMilli = true, 20_000 },
		"gap": func(in *Input) {
			in.Readings = append(in.Readings[:20:20], in.Readings[31:]...)
			in.Readings = in.Readings[:40]
		},
		"clock unproven midway": func(in *Input) { in.Readings[29].Unproven = true; in.Readings = in.Readings[:45] },
		"looked away all along": func(in *Input) {
			for i := range in.Readings {
				in.Readings[i].Answer = model.LookedAway
			}
			in.Readings = []model.Reading{in.Readings[0], in.Readings[8], in.Readings[16], in.Readings[24], in.Readings[32]}
		},
		"cooled to rest between": func(in *Input) {
			in.Readings = append([]model.Reading{{At: 13 * 60000, NeedleMilli: 90_000}, {At: 15 * 60000, NeedleMilli: 0}}, in.Readings...)
		},
		"times out of order": func(in *Input) { in.Readings[5].At = in.Readings[3].At },
	} {
		in := sixty(t)
		in.Steps = append([]model.Step(nil), in.Steps...)
		spoil(&in)
		r, err := Judge(in)
		if err != nil {
			t.Fatal(name, err)
		}
		if r.Verdict == model.Shown {
			t.Errorf("%s: still shown %v", name, r.Reasons)
		}
		for i := range in.Readings {
			in.Readings[i].NeedleMilli = 100_000
		}
		if r, _ := Judge(in); r.Verdict != model.Failed {
			t.Errorf("%s and far too low: %s", name, r.Verdict)
		}
	}
}

func BenchmarkJudge60(b *testing.B) {
	in := sixty(b)
	for b.Loop() {
		if _, err := Judge(in); err != nil {
			b.Fatal(err)
		}
	}
}
