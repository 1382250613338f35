package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"mvuke/app/tables"
)

// ctl runs the tool and gives exit code, standard output as JSON and what was said to people.
func ctl(t *testing.T, args ...string) (code int, out map[string]any, said string) {
	t.Helper()
	t.Setenv("MVUKE_STATE", filepath.Join(os.TempDir(), "mvukectl-test-state"))
	var o, e bytes.Buffer
	code = run(args, &o, &e)
	if o.Len() > 0 {
		if err := json.Unmarshal(o.Bytes(), &out); err != nil {
			t.Fatalf("%v: not JSON: %v\n%s", args, err, o.String())
		}
	}
	return code, out, e.String()
}

func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func goodLog(needle float64) string {
	s := "minute,gauge,lowest,event\n0,0,,vent-start\n11,0,,vent-end\n15,60\n"
	for m := 20; m <= 54; m += 2 {
		s += fmt.Sprintf("%d,%g,%g\n", m, needle, needle)
	}
	return s + "55,,,steam-out\n62,0,,zero\n65,0,,open\n"
}

func TestMarkGivesItsKeys(t *testing.T) {
	code, out, said := ctl(t, "mark", "--altitude", "1800m", "--unit", "psi", "--line", "1", "--span", "30", "--class", "2.5", "--limit", "22")
	if code != 0 || out["restart"] != 18.0 || out["mark"] != 19.0 || out["limit"] != 22.0 || out["plannedMinutes"] != 30.0 || out["refused"] != nil {
		t.Errorf("%d %v", code, out)
	}
	for _, k := range []string{"ambientKPa", "needKPa", "need", "restart", "mark", "limit", "plannedMinutes", "allowances", "refused"} {
		if _, ok := out[k]; !ok {
			t.Errorf("%s is missing", k)
		}
	}
	if !strings.Contains(said, "Steam burns") {
		t.Error("a number without its caution")
	}
}

func TestCase015RefusalIsACodeWithASentence(t *testing.T) {
	code, out, _ := ctl(t, "mark", "--altitude", "4000m", "--unit", "psi", "--limit", "20", "--class", "0", "--json")
	r, _ := out["refused"].(map[string]any)
	if code != 0 || out["mark"] != nil || out["plannedMinutes"] != nil || r["code"] != "limit-below-need" || !strings.Contains(fmt.Sprint(r["text"]), "120.1") {
		t.Errorf("%d %v", code, out)
	}
}

func TestWrongInputSaysWhatToDo(t *testing.T) {
	log := write(t, "l.csv", goodLog(130))
	dir := filepath.Join(t.TempDir(), "data")
	if code, _, said := ctl(t, "demo", "--data", dir); code != 0 {
		t.Fatal(said)
	}
	for says, args := range map[string][]string{
		"549 m":            {"mark", "--altitude", "1800", "--unit", "psi"},
		"1800 m":           {"mark", "--altitude", "5906m", "--unit", "psi"},
		"two ways":         {"mark", "--altitude", "1,800m", "--unit", "psi"},
		"altitude":         {"mark", "--unit", "psi"},
		"unit":             {"mark", "--altitude", "1800m"},
		"forecast":         {"mark", "--altitude", "1800m", "--unit", "psi", "--barometer", "1013hPa"},
		"wrapped":          {"mark", "--altitude", "1800m", "--unit", "psi", "--item", "soup"},
		"flag":             {"mark", "--height", "3"},
		"no command":       {"fly"},
		"Name one log":     {"assess", "--altitude", "1800m", "--unit", "kPa"},
		"cannot be opened": {"assess", "nothing.csv", "--altitude", "1800m", "--unit", "kPa"},
		"beyond the end":   {"assess", log, "--altitude", "1800m", "--unit", "kPa", "--span", "100"},
		"--data":           {"check"},
		"copies lie in":    {"restore", "--from", "nothing.mvb", "--data", filepath.Join(os.TempDir(), "mvuke-never-made")},
		"packs, cycles":    {"table", "pots", "--data", dir},
		"end in .csv":      {"table", "packs", "--data", dir, "--out", filepath.Join(dir, "register.db")},
		"no register":      {"check", "--data", "nowhere"},
		"n’y a pas de":     {"check", "--data", "nowhere", "--lang", "fr"},
		"has not begun":    {"report", "--data", dir, "--month", "2199-01"},
		"write it as 2027": {"report", "--data", dir, "--month", "march"},
	} {
		if code, _, said := ctl(t, args...); code != 2 || !strings.Contains(said, says) {
			t.Errorf("%v: %d %s", args, code, said)
		}
	}
}

func TestRefusedRestoreMakesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	ctl(t, "restore", "--from", "nothing.mvb", "--data", dir)
	if _, err := os.Stat(dir); err == nil {
		t.Error("a folder was left behind")
	}
}

func TestVerdictsAndExitCodes(t *testing.T) {
	args := []string{"--altitude", "1800m", "--unit", "kPa", "--span", "250", "--class", "1.6", "--rest", "0", "--json"}
	for needle, want := range map[float64]struct {
		code    int
		verdict string
	}{135: {0, "shown"}, 110: {4, "failed"}} {
		code, out, _ := ctl(t, append([]string{"assess", write(t, "l.csv", goodLog(needle))}, args...)...)
		if code != want.code || out["verdict"] != want.verdict || out["rule"] == "" || out["requiredMinutes"] != 30.0 {
			t.Errorf("%v kPa: %d %v", needle, code, out)
		}
	}
	noVent := strings.Replace(goodLog(135), "11,0,,vent-end\n", "", 1)
	code, out, _ := ctl(t, append([]string{"assess", write(t, "l.csv", noVent)}, args...)...)
	if code != 3 || out["verdict"] != "not-known" || out["f0Guaranteed"] != nil {
		t.Errorf("%d %v", code, out)
	}
}

// A log judged by its frozen plan; and a plan that somebody softened is refused, whatever was taken out.
func TestPlanIsTakenWholeOrNotAtAll(t *testing.T) {
	_, out, _ := ctl(t, "mark", "--altitude", "1800m", "--unit", "kPa", "--line", "10", "--span", "250", "--class", "1.6", "--limit", "180")
	save := func(m map[string]any) string {
		b, _ := json.Marshal(m)
		return write(t, "mark.json", string(b))
	}
	log := write(t, "l.csv", goodLog(135))
	if code, got, said := ctl(t, "assess", log, "--plan", save(out), "--rest", "0"); code != 0 || got["verdict"] != "shown" {
		t.Fatalf("%d %v %s", code, got, said)
	}
	if code, _, said := ctl(t, "assess", log, "--plan", save(out), "--unit", "psi"); code != 2 || !strings.Contains(said, "switched") {
		t.Errorf("%d %s", code, said)
	}
	plan := out["plan"].(map[string]any)
	for key, was := range plan {
		if key == "Corrections" || key == "Policy" || key == "Standing" || key == "ClassMilli" || key == "OffsetPa" || key == "HeightM" ||
			key == "LimitMilli" || key == "LineMilli" {
			continue // no part of it makes a verdict better
		}
		plan[key] = 1
		if key == "Unit" {
			plan[key] = "stone"
		}
		if code, _, said := ctl(t, "assess", log, "--plan", save(out), "--rest", "0"); code == 0 {
			t.Errorf("%s softened and accepted: %s", key, said)
		}
		plan[key] = was
	}
	_, cool, _ := ctl(t, "mark", "--altitude", "1800m", "--unit", "kPa", "--temp", "119")
	if code, _, said := ctl(t, "assess", log, "--plan", save(cool)); code != 2 {
		t.Errorf("a plan for 119 degC judged a cycle: %d %s", code, said)
	}
}

func TestRegisterCommands(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	if code, _, said := ctl(t, "demo", "--data", dir); code != 0 {
		t.Fatal(said)
	}
	if code, _, said := ctl(t, "demo", "--data", dir); code != 2 || !strings.Contains(said, "already") {
		t.Errorf("a register was filled over: %d %s", code, said)
	}
	if code, out, said := ctl(t, "check", "--data", dir); code != 0 || out["ok"] != true {
		t.Errorf("%v %s", out, said)
	}
	for _, sheet := range [][]string{{"card"}, {"slip", "--paper", "A5"}, {"sheet"}, {"sheet", "--cycle", "3", "--lang", "fr"}} {
		pdf := filepath.Join(t.TempDir(), "x.pdf")
		if code, _, said := ctl(t, append(sheet, "--data", dir, "--out", pdf)...); code != 0 {
			t.Errorf("%v: %s", sheet, said)
		}
		if b, err := os.ReadFile(pdf); err != nil || !bytes.HasPrefix(b, []byte("%PDF")) {
			t.Errorf("%v made no PDF: %v", sheet, err)
		}
	}
	for _, table := range tables.Exports {
		file := filepath.Join(t.TempDir(), table+".csv")
		if code, _, said := ctl(t, "table", table, "--data", dir, "--out", file); code != 0 {
			t.Errorf("%s: %s", table, said)
		}
		least := 2
		if table == "recalls" || table == "sites" { // a clinic alone has none: the names of the columns
			least = 1
		}
		if b, err := os.ReadFile(file); err != nil || bytes.Count(b, []byte("\n")) < least {
			t.Errorf("%s has no row: %v", table, err)
		}
	}
	copyTo := filepath.Join(t.TempDir(), "copy.mvb")
	if code, _, said := ctl(t, "backup", "--data", dir, "--out", copyTo); code != 0 {
		t.Fatal(said)
	}
	if code, out, said := ctl(t, "restore", "--from", copyTo, "--data", dir); code != 0 || out["aside"] == "" {
		t.Errorf("%v %s", out, said)
	}
	if code, out, said := ctl(t, "check", "--data", dir, "--json"); code != 0 || out["ok"] != true {
		t.Errorf("after the restore: %v %s", out, said)
	}
}
