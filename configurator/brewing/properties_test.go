package brewing

import (
	"math"
	"reflect"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

// anyBeer draws a beer that a small brewery could make.
func anyBeer(t *rapid.T, name string) Beer {
	oe := rapid.Float64Range(7, 18).Draw(t, "OE")
	b := Beer{
		Name: name, Kind: rapid.SampledFrom([]Kind{CaskAle, KegAle, IPA, Wheat, Lager, Strong, KettleSour, MixedSour}).Draw(t, "kind"),
		Yearly: unit.Hectolitres(rapid.Float64Range(20, 900).Draw(t, "hL")), OE: unit.DegreesPlato(oe),
		AE: unit.DegreesPlato(oe * rapid.Float64Range(0.15, 0.35).Draw(t, "AE share")),
	}
	b.BrewsPerTank = rapid.IntRange(0, 2).Draw(t, "brews")
	b.Package = rapid.SampledFrom([]string{"keg", "cask", "bottle", "tank"}).Draw(t, "package")
	return b
}

func anyInput(t *rapid.T) Input {
	in := Input{
		Year: Year{Weeks: rapid.IntRange(40, 52).Draw(t, "weeks"), PeakFactor: unit.Fraction(rapid.Float64Range(1, 2.5).Draw(t, "peak")), BrewsPerDay: rapid.IntRange(1, 2).Draw(t, "brews a day")},
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "beers") {
		in.Beers = append(in.Beers, anyBeer(t, string(rune('A'+i))))
	}
	if rapid.Bool().Draw(t, "chosen") {
		in.Brewhouse.BrewLength = unit.Hectolitres(float64(rapid.SampledFrom([]int{5, 10, 20}).Draw(t, "length")))
		for i := range rapid.IntRange(1, 8).Draw(t, "fermenters") {
			size := rapid.SampledFrom([]float64{7, 14, 28, 34}).Draw(t, "gross")
			in.Fermenters = append(in.Fermenters, Tank{Tag: string(rune('a' + i)), Gross: unit.Hectolitres(size)})
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "brights") {
			in.Brights = append(in.Brights, Tank{Tag: string(rune('p' + i)), Gross: unit.Hectolitres(rapid.SampledFrom([]float64{6, 12, 24}).Draw(t, "bright gross"))})
		}
	}
	return in
}

func sized(t *rapid.T, in Input) Result {
	r, err := Size(in)
	if err != nil {
		t.Fatalf("size: %v", err)
	}
	return r
}

func close9(t *rapid.T, what string, a, b float64) {
	if math.Abs(a-b) > 1e-9*math.Max(1, math.Max(math.Abs(a), math.Abs(b))) {
		t.Errorf("%s: %.12g and %.12g", what, a, b)
	}
}

func TestBalancesClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		r := sized(t, in)
		tankDays, beerDays := 0, 0
		for _, c := range r.Classes {
			tankDays += c.TankDays
		}
		for _, p := range r.Beers {
			w, c := p.Brew, p.Charge
			beerDays += p.Batches * (p.Days.InTank() + p.Days.Bright)
			yield := 0.785 * (0.88 - 0.01*math.Max(0, p.Beer.OE.P()-14))
			close9(t, "extract of malt and wort", w.Malt.Kg()*yield, w.Extract.Kg())
			dryIn := w.Malt.Kg() * 0.96
			close9(t, "dry matter", dryIn, w.Extract.Kg()+w.WetGrain.Kg()*(1-0.78))
			waterIn := w.HotLiquor.L() + w.Malt.Kg()*0.04
			close9(t, "water", waterIn, w.KettleMass.Kg()-w.Extract.Kg()+w.WetGrain.Kg()*0.78)
			close9(t, "extract fermented", c.Mass.Ethanol.Kg()+c.Mass.CO2.Kg()+c.Mass.Yeast.Kg(), c.Mass.Extract.Kg())
			close9(t, "wort and beer", c.Mass.Beer.Kg()+c.Mass.CO2.Kg()+c.Mass.Yeast.Kg(), c.WortMass.Kg())
			close9(t, "curve", c.Curve[len(c.Curve)-1].Given.Kg(), c.Mass.CO2.Kg())
			last := w.Chain[len(w.Chain)-1].Volume.L() * float64(p.BrewsPerTank)
			close9(t, "chain of volumes", last, c.Packaged.L())
			for _, step := range w.Chain {
				if step.State == "" || step.Place == "" {
					t.Errorf("a volume is named without its state: %+v", step)
				}
			}
			if p.Packaged.L() < p.Beer.Yearly.L()*(1-1e-9) {
				t.Errorf("%s: %v packaged for %v asked", p.Beer.Name, p.Packaged, p.Beer.Yearly)
			}
		}
		if tankDays != beerDays {
			t.Errorf("tank-days of classes %d, of beers %d", tankDays, beerDays)
		}
	})
}

// TestScheduleNeverOverlaps looks at every tank, every batch and every brew day.
func TestScheduleNeverOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		r := sized(t, in)
		for _, tank := range append(append([]TankPlan{}, r.Fermenters...), r.Brights...) {
			noOverlap(t, tank)
		}
		perDay, perWeek := map[int]int{}, map[int]int{}
		placed := 0
		for _, b := range r.Batches {
			if b.Fermenter < 0 {
				continue
			}
			placed++
			p := r.Beers[b.Beer]
			fits := p.Charge.Wort.L()/(1-p.LeastSpace.Value()) <= r.Fermenters[b.Fermenter].Tank.Gross.L()*(1+1e-9)
			if !fits || len(b.Brews) != p.BrewsPerTank {
				t.Errorf("%s %d: fits %v, %d brews", p.Beer.Name, b.Number, fits, len(b.Brews))
			}
			if b.FermentEnd-b.Start != p.Days.Ferment || b.CrashStart-b.FermentEnd != p.Days.Mature || b.Rack-b.CrashStart < p.Days.Cold || b.Free-b.Rack != p.Days.Turn {
				t.Errorf("stages of %s %d: %+v", p.Beer.Name, b.Number, b)
			}
			for _, d := range b.Brews {
				perDay[d]++
				perWeek[d/7]++
			}
		}
		if placed+len(r.Unplaced) != len(r.Batches) {
			t.Errorf("%d placed, %d not, of %d", placed, len(r.Unplaced), len(r.Batches))
		}
		year := r.Settled.Year
		for d, n := range perDay {
			if n > year.BrewsPerDay || d%7 >= year.BrewDays {
				t.Errorf("day %d has %d brews", d, n)
			}
		}
		for w, n := range perWeek {
			if float64(n) > math.Ceil(year.BrewsPerWeek.Value()) {
				t.Errorf("week %d has %d brews", w, n)
			}
		}
	})
}

func noOverlap(t *rapid.T, tank TankPlan) {
	var day [3000]int16
	for _, sp := range tank.Spans {
		for d := sp.Start; d < sp.End; d++ {
			if day[d] != 0 {
				t.Fatalf("%s: batches %d and %d on day %d", tank.Tank.Tag, day[d]-1, sp.Batch, d)
			}
			day[d] = int16(sp.Batch + 1)
		}
	}
	if tank.Fill.L() > tank.Tank.Gross.L()*(1+1e-9) {
		t.Errorf("%s holds %v of %v", tank.Tank.Tag, tank.Fill, tank.Tank.Gross)
	}
}

// TestMoreVolumeNeverNeedsFewerTanks at one brew length and number of brews a tank.
func TestMoreVolumeNeverNeedsFewerTanks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Fermenters, in.Brights = nil, nil
		in.Brewhouse.BrewLength = unit.Hectolitres(10)
		in.Year.BrewsPerWeek, in.Year.BrewsPerDay = unit.Fraction(20), 4
		for i := range in.Beers {
			in.Beers[i].BrewsPerTank = max(in.Beers[i].BrewsPerTank, 1)
			if in.Beers[i].Package == "tank" {
				in.Beers[i].Package = "keg" // a serving tank is taken all year whatever is sold
			}
		}
		more := in
		more.Beers = append([]Beer{}, in.Beers...)
		grow := rapid.Float64Range(1, 2).Draw(t, "growth")
		at := rapid.IntRange(0, len(in.Beers)-1).Draw(t, "which")
		more.Beers[at].Yearly *= unit.Volume(grow)
		a, b := sized(t, in), sized(t, more)
		for i := range a.Classes {
			if b.Classes[i].Tanks < a.Classes[i].Tanks {
				t.Errorf("%s: %d tanks for more, %d for less", a.Classes[i].Name, b.Classes[i].Tanks, a.Classes[i].Tanks)
			}
		}
	})
}

// TestProposedTanksCarryTheYear: where the brew days suffice, no batch is late on the
// tanks that Size proposes.
func TestProposedTanksCarryTheYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Fermenters, in.Brights = nil, nil
		in.Brewhouse.BrewLength = unit.Hectolitres(10)
		in.Year.BrewsPerDay, in.Year.PeakFactor = 4, unit.Fraction(1.3)
		for i := range in.Beers {
			if in.Beers[i].Kind == KettleSour {
				in.Beers[i].Kind = KegAle // the kettle, not a tank, limits a sour
			}
		}
		r := sized(t, in)
		for r.Totals.BrewsPeak > 10 { // half of the brew days are taken in the peak
			for i := range in.Beers {
				in.Beers[i].Yearly /= 2
			}
			r = sized(t, in)
		}
		if len(r.Late)+len(r.Unplaced) > 0 {
			t.Errorf("%d late, %d unplaced of %d", len(r.Late), len(r.Unplaced), len(r.Batches))
		}
	})
}

// TestBrewScales: a brew of twice the length takes twice of everything.
func TestBrewScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBeer(t, "A")
		in := Input{Beers: []Beer{b}, Year: Year{Weeks: 50}, Brewhouse: Brewhouse{BrewLength: unit.Hectolitres(8)}}
		one := sized(t, in)
		in.Brewhouse.BrewLength *= 2
		two := sized(t, in)
		x, y := one.Beers[0].Brew, two.Beers[0].Brew
		for _, pair := range [][2]float64{
			{x.Malt.Kg(), y.Malt.Kg()},
			{x.KettleFull.L(), y.KettleFull.L()},
			{x.HotLiquor.L(), y.HotLiquor.L()},
			{x.WetGrain.Kg(), y.WetGrain.Kg()},
			{x.HeatUp.KWh(), y.HeatUp.KWh()},
			{x.BoilPower.KW(), y.BoilPower.KW()},
		} {
			close9(t, "twice the brew", 2*pair[0], pair[1])
		}
	})
}

func TestSizeIsDeterministicAndKeepsItsInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		beers := append([]Beer{}, in.Beers...)
		a, b := sized(t, in), sized(t, in)
		if !reflect.DeepEqual(a, b) {
			t.Error("two runs differ")
		}
		if !reflect.DeepEqual(beers, in.Beers) {
			t.Error("the input was changed")
		}
	})
}

// TestPeakFactorIsMet holds the wave of sales to its peak and its closed weeks.
func TestPeakFactorIsMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weeks := rapid.IntRange(40, 52).Draw(t, "weeks")
		week := rapid.IntRange(1, 52).Draw(t, "peak week")
		peak := rapid.Float64Range(1, 3).Draw(t, "peak")
		open := openWeeks(weeks, week)
		n := 0
		for _, o := range open {
			if o {
				n++
			}
		}
		if n != weeks {
			t.Fatalf("%d weeks open, want %d", n, weeks)
		}
		cum := demand(open, week, peak)
		most, last := 0.0, 0.0
		for _, c := range cum {
			most = math.Max(most, c-last)
			last = c
		}
		if got := most * float64(7*weeks); math.Abs(got-peak) > 2e-3*peak {
			t.Errorf("peak day over mean day is %g, want %g", got, peak)
		}
		if math.Abs(last-1) > 1e-12 {
			t.Errorf("a year sells %g of itself", last)
		}
	})
}

// TestDedicatedTanksAreKept: a sour never shares a tank with another beer.
func TestDedicatedTanksAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := sized(t, anyInput(t))
		for _, tank := range r.Fermenters {
			for _, sp := range tank.Spans {
				if p := r.Beers[r.Batches[sp.Batch].Beer]; p.Dedicated != tank.Tank.Class {
					t.Fatalf("%s of class %q holds %s of class %q", tank.Tank.Tag, tank.Tank.Class, p.Beer.Name, p.Dedicated)
				}
			}
		}
	})
}
