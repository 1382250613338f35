package main

import (
	"math"
	"os"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// begin sets a register up: that of a clinic with its pot, or with --office that of a district's office.
func (t *tool) begin(args []string) int {
	f := t.flags("begin")
	var p place
	p.add(f)
	dir := f.String("data", "", "empty folder for the register")
	name := f.String("site", "", "name of the clinic, or with --office of the district")
	person := f.String("person", "", "name of the one in charge")
	office := f.Bool("office", false, "this is a district's office: it has no pot, and clinics join it")
	limit := f.String("limit", "", "the pot's own maximum from its plate, with its unit: 160kPa")
	water := number{v: 2.5}
	f.Var(&water, "water", "least water for a cycle, in litres")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *dir == "" {
		return t.bad(wrong("data"))
	}
	a := work.Answers{Language: f.lang, Office: *office, Site: model.Site{Name: *name}, Person: model.Person{Name: *person}}
	if !*office {
		if err := p.answers(&a, *limit, water.v); err != nil {
			return t.bad(err)
		}
	}
	if err := a.Check(); err != nil {
		return t.bad(err)
	}
	if list, err := os.ReadDir(*dir); err == nil && len(list) > 0 {
		return t.bad(wrong("not-empty", *dir))
	}
	if err := os.MkdirAll(*dir, 0o700); err != nil {
		return t.bad(err)
	}
	d, err := work.Open(*dir, work.Options{Clock: clock})
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	if err := d.SetUp(a); err != nil {
		return t.bad(err)
	}
	f.say("%s", t.words.Say("begin.done", a.Site.Name))
	return t.print(map[string]any{"data": *dir, "site": a.Site.Name, "office": *office})
}

// answers are what the flags say of place, pot and gauge.
func (p *place) answers(a *work.Answers, limit string, litres float64) error {
	site, err := p.site()
	if err != nil {
		return err
	}
	g, _, err := p.gauge()
	if err != nil {
		return err
	}
	if limit == "" {
		return wrong("limit")
	}
	most, err := steam.Pressure(limit)
	if err != nil {
		return err
	}
	milli := func(v float64) int64 { return int64(math.Round(v * 1000)) }
	a.Site.HeightM, a.Site.How, a.Site.WithinM, a.Site.WeatherPermille = int64(math.Round(float64(site.Height))), model.ByMap, int64(site.Within), milli(site.Weather)
	a.Gauge = model.GaugeLooks{Unit: string(g.Unit), SpanMilli: milli(g.Span), LineMilli: milli(g.Line), ClassMilli: milli(g.Class)}
	if g.Class < 0 {
		a.Gauge.ClassMilli = -1
	}
	a.Pot = model.Sterilizer{Name: "1", LimitPa: int64(most), LeastWaterML: milli(litres)}
	return nil
}
