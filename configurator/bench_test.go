package configurator

import (
	"fmt"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
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

// BenchmarkRecheck checks again after an edit that one discipline feels, and after none.
func BenchmarkRecheck(b *testing.B) {
	p, c := large(b, 60)
	before, err := Check(p, c)
	if err != nil {
		b.Fatal(err)
	}
	fuse := p
	fuse.Site.Supply.Fuse.Value += unit.Amperes(25)
	for _, edit := range []struct {
		name string
		p    enquiry.Project
	}{{"nothing", p}, {"fuse", fuse}} {
		b.Run(edit.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Recheck(before, edit.p, c); err != nil {
					b.Fatal(err)
				}
			}
		})
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
		work func(*check)
	}{
		{Brewing, func(k *check) { k.brewing(c) }},
		{Cooling, func(k *check) { k.cooling(c) }},
		{Electrical, func(k *check) { k.electrical(c) }},
		{Floor, func(k *check) { k.floor(c) }},
		{Access, func(k *check) { k.access(c) }},
		{Air, func(k *check) { k.air(c) }},
		{Water, func(k *check) { k.water(c) }},
		{Pressure, func(k *check) { k.pressure() }},
		{Programme, func(k *check) { k.programme() }},
		{Food, func(k *check) { k.food() }},
	} {
		b.Run(string(d.name), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				k := check{Report: whole, before: &Report{}}
				k.Findings = room[:0]
				d.work(&k)
			}
		})
	}
}
