package configurator

import (
	"fmt"
	"testing"

	"tunwright/catalog"
	"tunwright/configurator/enquiry"
	"tunwright/testdata/projects"
)

// large gives the demo enquiry, arranged, with as many lines as asked for.
func large(b *testing.B, lines int) (enquiry.Project, *catalog.Catalogue) {
	b.Helper()
	p, c := sample(b, projects.Demo)
	p, err := Arrange(p, c)
	if err != nil {
		b.Fatal(err)
	}
	for i := len(p.Chosen.Items); i < lines; i++ {
		p.Chosen.Items = append(p.Chosen.Items, enquiry.Item{Tag: fmt.Sprintf("X%d", i), Product: "FT-HOSE-25"})
	}
	return p, c
}

func BenchmarkCheck(b *testing.B) {
	p, c := large(b, 60)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Check(p, c); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDiscipline carries, sizes and judges one discipline of a report that has
// the others already.
func BenchmarkDiscipline(b *testing.B) {
	p, c := large(b, 60)
	whole, err := Check(p, c)
	if err != nil {
		b.Fatal(err)
	}
	room := make([]Finding, 0, usualFindings)
	for _, d := range []struct {
		name Discipline
		work func(*Report)
	}{
		{Brewing, func(r *Report) { r.brewing(c) }},
		{Cooling, func(r *Report) { r.cooling(c) }},
		{Electrical, func(r *Report) { r.electrical(c) }},
		{Floor, func(r *Report) { r.floor(c) }},
		{Access, func(r *Report) { r.access(c) }},
		{Air, func(r *Report) { r.air(c) }},
		{Water, func(r *Report) { r.water(c) }},
		{Pressure, func(r *Report) { r.pressure() }},
		{Programme, func(r *Report) { r.programme() }},
		{Food, func(r *Report) { r.food() }},
	} {
		b.Run(string(d.name), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r := whole
				r.Findings = room[:0]
				d.work(&r)
			}
		})
	}
}
