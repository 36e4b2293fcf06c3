package offer_test

import (
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/access"
	"tunwright/configurator/air"
	"tunwright/configurator/haccp"
	"tunwright/configurator/pressure"
	"tunwright/configurator/programme"
	"tunwright/configurator/rule"
	"tunwright/configurator/water"
)

// What each discipline of the building and its services takes of one check of the
// demo: it runs on every change of the enquiry.
func BenchmarkServices(b *testing.B) {
	h := house(b)
	r, err := configurator.Check(arranged(b, h, "weaving-mill").Project, h.Catalogue)
	if err != nil {
		b.Fatal(err)
	}
	in := r.Inputs
	run(b, "access", in.Access, access.Size, func(i access.Input, r access.Result) { rule.Run(access.Rules(), access.Facts{Input: i, Result: r}) })
	run(b, "air", in.Air, air.Size, func(i air.Input, r air.Result) { rule.Run(air.Rules(), air.Facts{Input: i, Result: r}) })
	run(b, "water", in.Water, water.Size, func(i water.Input, r water.Result) { rule.Run(water.Rules(), water.Facts{Input: i, Result: r}) })
	run(b, "pressure", in.Pressure, pressure.Size, func(i pressure.Input, r pressure.Result) {
		rule.Run(pressure.Rules(), pressure.Facts{Input: i, Result: r})
	})
	run(b, "programme", in.Programme, programme.Size, func(i programme.Input, r programme.Result) {
		rule.Run(programme.Rules(), programme.Facts{Input: i, Result: r})
	})
	run(b, "haccp", in.Food, haccp.Size, func(i haccp.Input, r haccp.Result) { rule.Run(haccp.Rules(), haccp.Facts{Input: i, Result: r}) })
}

func run[I, R any](b *testing.B, name string, in I, size func(I) (R, error), rules func(I, R)) {
	b.Helper()
	r, err := size(in)
	if err != nil {
		b.Fatal(err)
	}
	b.Run(name+"/size", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := size(in); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run(name+"/rules", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			rules(in, r)
		}
	})
}
