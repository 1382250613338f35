package tables

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
)

// truths mark columns that a reader passes over: what a simulator knows and no person can.
const truths = "true_"

// True is one moment of the truth beside a log. Temperatures in degC, shares by volume.
type True struct {
	Minute                        float64
	Chamber, Pack, Air, Overkpa   float64
	PackAir, WaterKg, HeatedWatts float64
}

var trueColumns = []string{"true_chamber_C", "true_pack_C", "true_air", "true_over_kPa", "true_pack_air", "true_water_kg", "true_heat_W"}

// practised fills the column that marks each row of a simulated log.
const practised = "practice"

// WriteLog writes a log that ReadLog reads. line is the restart line in thousandths: an oath that the needle
// stayed at or above it is written as its lowest. truth, where given, stands in columns of its own, a row a minute.
func WriteLog(w io.Writer, log Log, line int64, truth []True) error {
	c := csv.NewWriter(w)
	head := slices.Clone(columns[:5])
	if log.Practice {
		head = append(head, columns[5])
	}
	if truth != nil {
		head = append(head, trueColumns...)
	}
	if err := c.Write(head); err != nil {
		return err
	}
	for _, r := range merged(log, line, truth) {
		cells := []string{r.minute(), r.gauge, r.lowest, r.thermo, strings.Join(r.events, "+")}
		if log.Practice {
			cells = append(cells, practised)
		}
		if truth != nil {
			cells = append(cells, r.truth[:]...)
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

type row struct {
	at                    int64 // ms
	gauge, lowest, thermo string
	events                []string
	truth                 [7]string
}

func (r row) minute() string { return strconv.FormatFloat(float64(r.at)/60000, 'f', -1, 64) }

func merged(log Log, line int64, truth []True) []row {
	var out []row
	named := map[model.StepCode]string{}
	for name, code := range events {
		named[code] = name
	}
	for _, s := range log.Steps {
		if name, ok := named[s.Code]; ok {
			r := row{at: s.At, events: []string{name}}
			if s.HasNeedle {
				r.gauge = thousandths(s.NeedleMilli)
			}
			out = append(out, r)
		}
	}
	for _, l := range log.Readings {
		r := row{at: l.At, gauge: thousandths(l.NeedleMilli)}
		switch l.Answer {
		case model.Stayed:
			r.lowest = thousandths(min(line, l.NeedleMilli))
		case model.Dipped:
			r.lowest = thousandths(l.LowestMilli)
		}
		if l.Answer == model.LookedAway || l.Away {
			r.events = []string{"away"}
		}
		if l.ThermoMilli != 0 {
			r.thermo = thousandths(l.ThermoMilli)
		}
		out = append(out, r)
	}
	for _, t := range truth {
		r := row{at: int64(t.Minute * 60000)}
		for i, v := range []float64{t.Chamber, t.Pack, t.Air, t.Overkpa, t.PackAir, t.WaterKg, t.HeatedWatts} {
			r.truth[i] = strconv.FormatFloat(v, 'f', 4, 64)
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(a, b row) int { return int(a.at - b.at) })
	return out
}

func thousandths(milli int64) string { return strconv.FormatFloat(float64(milli)/1000, 'f', -1, 64) }
