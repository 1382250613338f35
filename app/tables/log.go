// Package tables reads and writes tables: the log of a cycle as CSV.
package tables

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/steam"
)

// Log is a cycle's log as read from a file.
type Log struct {
	Readings []model.Reading
	Steps    []model.Step
	Practice bool // of a pot that was only simulated
}

// BadLine says which line of a file could not be used, and what to do.
type BadLine struct {
	Line int
	What string
}

func (e *BadLine) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.What) }

// Columns of a log. minute and gauge must be there.
var columns = []string{"minute", "gauge", "lowest", "thermometer", "event", "practice"}

// events that a log may name, several joined by +.
var events = map[string]model.StepCode{
	"lit": model.StepLit, "fire-fed": model.StepFed, "fire-tamed": model.StepTamed, "fire-drawn": model.StepFireDrawn, "valve-blows": model.StepBlowing,
	"vent-start": model.StepVentStart, "vent-end": model.StepVentEnd, "fire-low": model.StepFireLow,
	"steam-out": model.StepSteamOut, "zero": model.StepZero, "open": model.StepOpened, "away": model.StepAway,
}

// LongestLog bounds a log; a cycle does not last a day.
const (
	LongestLog  = 24 * 60 // minutes
	MostLogRows = 10000

	mostLogBytes = 4 << 20
)

// ReadLog reads a log in the dial's unit. span is the end of the dial, 0 where it is not known.
// Nothing is repaired: a value that cannot be is an error that names its line.
func ReadLog(r io.Reader, span float64) (Log, error) {
	whole := &io.LimitedReader{R: r, N: mostLogBytes}
	c := csv.NewReader(whole)
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = true
	head, err := c.Read()
	if err != nil {
		return Log{}, &BadLine{1, "the log is empty; the first line must name the columns: " + strings.Join(columns, ",")}
	}
	at, truth, err := place(head)
	if err != nil {
		return Log{}, err
	}
	var out Log
	last := math.Inf(-1)
	for {
		cells, err := c.Read()
		if whole.N <= 0 {
			return Log{}, &BadLine{1, "the log is larger than 4 MB; one log is one cycle"}
		}
		if errors.Is(err, io.EOF) {
			break
		}
		line, _ := c.FieldPos(0)
		if err != nil {
			return Log{}, &BadLine{line, "this line cannot be read as a table line: " + err.Error()}
		}
		row := reader{line: line, cells: cells, at: at, span: span, truth: truth, wide: len(head)}
		if len(cells) > row.wide {
			return Log{}, row.bad("this line has %d cells and the first line names %d columns; a comma too many moves figures into the wrong column", len(cells), row.wide)
		}
		out.Practice = out.Practice || row.cell("practice") != ""
		if row.onlyTruth() {
			continue
		}
		if last, err = row.into(&out, last); err != nil {
			return Log{}, err
		}
		if len(out.Readings) > MostLogRows {
			return Log{}, &BadLine{line, fmt.Sprintf("more than %d lines; one log is one cycle", MostLogRows)}
		}
	}
	if len(out.Readings) == 0 {
		return Log{}, &BadLine{1, "the log has no readings; write one line for each look at the needle"}
	}
	return out, nil
}

func place(head []string) (at map[string]int, truth []int, err error) {
	at = map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
		if strings.HasPrefix(h, truths) { // what a simulator knows: no reader may
			truth = append(truth, i)
			continue
		}
		if !slices.Contains(columns, h) {
			return nil, nil, &BadLine{1, fmt.Sprintf("column %q is not known; use %s", h, strings.Join(columns, ","))}
		}
		if _, twice := at[h]; twice {
			return nil, nil, &BadLine{1, fmt.Sprintf("column %q stands twice", h)}
		}
		at[h] = i
	}
	for _, must := range columns[:2] {
		if _, ok := at[must]; !ok {
			return nil, nil, &BadLine{1, fmt.Sprintf("column %q is missing; the first line must name the columns: %s", must, strings.Join(columns, ","))}
		}
	}
	return at, truth, nil
}

type reader struct {
	truth []int // columns of the truth
	wide  int   // columns that the first line names
	line  int
	cells []string
	at    map[string]int
	span  float64
}

func (r reader) cell(name string) string {
	i, ok := r.at[name]
	if !ok || i >= len(r.cells) {
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// onlyTruth says that a row has nothing but a minute in the columns that are read, and something in those of the truth.
func (r reader) onlyTruth() bool {
	for name := range r.at {
		if name != "practice" && name != "minute" && r.cell(name) != "" {
			return false
		}
	}
	return r.cell("minute") != "" && slices.ContainsFunc(r.truth, func(i int) bool { return i < len(r.cells) && strings.TrimSpace(r.cells[i]) != "" })
}

func (r reader) bad(format string, args ...any) error {
	return &BadLine{r.line, fmt.Sprintf(format, args...)}
}

func (r reader) number(name string) (v float64, have bool, err error) {
	s := r.cell(name)
	if s == "" {
		return 0, false, nil
	}
	if v, err = steam.Number(s); err != nil {
		return 0, false, r.bad("%s %v", name, err)
	}
	return v, true, nil
}

func (r reader) into(out *Log, last float64) (float64, error) {
	minute, ok, err := r.number("minute")
	switch {
	case err != nil:
		return last, err
	case !ok:
		return last, r.bad("the minute is missing; write the minutes since the start of the log")
	case minute < last:
		return last, r.bad("minute %g comes after minute %g: time runs backwards; put the lines in order of time", minute, last)
	case minute < -LongestLog || minute > LongestLog:
		return last, r.bad("minute %g is more than a day; minutes count from the start of the cycle", minute)
	}
	ms := int64(math.Round(minute * 60000))
	needle, seen, err := r.needle()
	if err != nil {
		return last, err
	}
	steps, err := r.events()
	if err != nil {
		return last, err
	}
	if !seen && len(steps) == 0 {
		return last, r.bad("no gauge figure and no event; write what the needle showed")
	}
	for _, s := range steps {
		if s != model.StepAway {
			out.Steps = append(out.Steps, model.Step{Code: s, At: ms, HasNeedle: seen, NeedleMilli: needle})
		}
	}
	if !seen {
		return minute, nil
	}
	rd := model.Reading{At: ms, NeedleMilli: needle}
	if slices.Contains(steps, model.StepAway) {
		rd.Answer = model.LookedAway
	}
	if err := r.claim(&rd); err != nil {
		return last, err
	}
	out.Readings = append(out.Readings, rd)
	return minute, nil
}

func (r reader) needle() (milli int64, seen bool, err error) {
	v, ok, err := r.number("gauge")
	if err != nil || !ok {
		return 0, false, err
	}
	if r.span > 0 && v > r.span {
		return 0, false, r.bad("gauge %g is beyond the end of the dial (%g); look at the unit and the figure again", v, r.span)
	}
	if v < -1000 || v > 1e6 {
		return 0, false, r.bad("gauge %g cannot be; look at the figure again", v)
	}
	return model.MilliDown(v), true, nil
}

func (r reader) claim(rd *model.Reading) error {
	low, ok, err := r.number("lowest")
	if err != nil {
		return err
	}
	if ok {
		m := model.MilliDown(low)
		if m > rd.NeedleMilli {
			return r.bad("lowest %g is above the needle now (%g); the lowest since the last look cannot be", low, float64(rd.NeedleMilli)/1000)
		}
		rd.Away = rd.Answer == model.LookedAway
		rd.Answer, rd.LowestMilli = model.Dipped, m
	}
	t, ok, err := r.number("thermometer")
	if err != nil {
		return err
	}
	if ok {
		if t < 1 || t > 180 {
			return r.bad("thermometer %g degC cannot be; write degrees Celsius", t)
		}
		rd.ThermoMilli = model.MilliDown(t)
	}
	return nil
}

func (r reader) events() (out []model.StepCode, err error) {
	for _, name := range strings.FieldsFunc(r.cell("event"), func(c rune) bool { return c == '+' || c == ' ' }) {
		code, ok := events[strings.ToLower(name)]
		if !ok {
			return nil, r.bad("event %q is not known; use lit, vent-start, vent-end, fire-fed, fire-tamed, fire-low, fire-drawn, valve-blows, steam-out, zero, open or away", name)
		}
		out = append(out, code)
	}
	return out, nil
}
