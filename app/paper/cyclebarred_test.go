package paper

import (
	"bytes"
	"strings"
	"testing"

	"mvuke/assets"
	"mvuke/model"
)

// The sheet of a load that something stops says so before all that its readings show; of another it says nothing of the kind.
func TestTheSheetOfAStoppedLoadSaysSoFirst(t *testing.T) {
	_, tell := demoCycle(t)
	w := assets.For("en")
	stopped := w.Say("usable.held")
	told := tell(w)
	if told.Result.Verdict != model.Shown || told.Barred {
		t.Fatalf("the readings are %s, barred %v", told.Result.Verdict, told.Barred)
	}
	for _, barred := range []bool{false, true} {
		if told.Barred = barred; barred {
			told.Settled = stopped
		}
		var b bytes.Buffer
		if err := CycleSheet(&b, w, A4, told); err != nil {
			t.Fatal(err)
		}
		out := text(t, b.Bytes())
		stop, shown := strings.Index(out, stopped), strings.Index(out, w.Say("verdict.shown"))
		if shown < 0 || (stop >= 0) != barred || stop > shown {
			t.Errorf("barred %v: stopped at %d, the readings show it at %d", barred, stop, shown)
		}
	}
}
