package tables

import (
	"bytes"
	"strings"
	"testing"

	"mvuke/model"
)

// What is written is read back as it was, with the truth passed over.
func TestWrittenLogIsReadBack(t *testing.T) {
	log := Log{
		Steps: []model.Step{{Code: model.StepLit}, {Code: model.StepVentStart, At: 1_200_000}, {Code: model.StepVentEnd, At: 1_860_000},
			{Code: model.StepTamed, At: 2_200_000}, {Code: model.StepZero, At: 5_000_000, HasNeedle: true, NeedleMilli: -2500}},
		Readings: []model.Reading{{At: 2_100_000, NeedleMilli: 117_500}, {At: 2_400_000, NeedleMilli: 130_000, Answer: model.Stayed},
			{At: 2_700_000, NeedleMilli: 127_500, Answer: model.Dipped, LowestMilli: 110_000}, {At: 3_000_000, NeedleMilli: 131_000, Answer: model.LookedAway}},
		Practice: true,
	}
	var b bytes.Buffer
	if err := WriteLog(&b, log, 125_000, []True{{Minute: 0.5, Chamber: 24}, {Minute: 36, Chamber: 121.5}}); err != nil {
		t.Fatal(err)
	}
	back, err := ReadLog(bytes.NewReader(b.Bytes()), 250)
	if err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	if !back.Practice || len(back.Steps) != len(log.Steps) || len(back.Readings) != len(log.Readings)+1 { // zero was read off the needle too
		t.Errorf("%+v", back)
	}
	for i, s := range log.Steps {
		if back.Steps[i].Code != s.Code || back.Steps[i].At != s.At {
			t.Errorf("%+v, was %+v", back.Steps[i], s)
		}
	}
	if r := back.Readings[1]; r.Answer != model.Dipped || r.LowestMilli != 125_000 { // an oath on the line
		t.Errorf("%+v", r)
	}
	if r := back.Readings[3]; r.Answer != model.LookedAway {
		t.Errorf("%+v", r)
	}
	for line := range strings.Lines(b.String()) {
		if !strings.Contains(line, practised) {
			t.Errorf("a row is not marked: %s", line)
		}
	}
	plain := strings.ReplaceAll(b.String(), practised, "")
	if _, err := ReadLog(strings.NewReader(plain), 250); err == nil {
		t.Error("a column without a name was taken")
	}
}
