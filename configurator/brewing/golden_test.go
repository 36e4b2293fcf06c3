package brewing

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

func ptr[T any](x T) *T { return &x }

func days(n float64) *unit.Duration { return ptr(unit.Days(n)) }

// harbour is an invented harbour-side brewpub of 1,100 hL a year: 48 weeks, 3½
// brews in a peak week.
func harbour() Input {
	beer := func(name string, kind Kind, hl, oe, ae float64, n int, loss, head float64, ferm, mat, cold, turn, bright, pitch float64, class string) Beer {
		return Beer{
			Name: name, Kind: kind, Yearly: unit.Hectolitres(hl), OE: unit.DegreesPlato(oe), AE: unit.DegreesPlato(ae), BrewsPerTank: n, Class: class,
			FermenterLoss: ptr(unit.Fraction(loss)), Headspace: ptr(unit.Fraction(head)), Pitch: ptr(unit.Celsius(pitch)),
			FermentDays: days(ferm), MatureDays: days(mat), ColdDays: days(cold), TurnDays: days(turn), BrightDays: days(bright),
		}
	}
	return Input{
		Beers: []Beer{
			beer("Pale ale", KegAle, 480, 11.5, 2.4, 2, 0.06, 0.25, 5, 3, 2, 1, 7, 18, ""),
			beer("Lager", Lager, 240, 12.0, 2.3, 2, 0.04, 0.25, 8, 3, 14, 1, 7, 10, ""),
			beer("Bitter", CaskAle, 200, 10.0, 2.2, 1, 0.05, 0.25, 4, 2, 2, 1, 6, 18, ""),
			beer("Wheat", Wheat, 120, 12.5, 2.8, 1, 0.05, 0.35, 4, 2, 2, 1, 6, 18, ""),
			beer("Sour", MixedSour, 60, 11.0, 1.8, 1, 0.05, 0.25, 10, 18, 2, 2, 7, 20, "sour"),
		},
		Year:     Year{Weeks: 48, PeakFactor: unit.Fraction(1.25), BrewsPerWeek: unit.Fraction(3.5), TankDays: unit.Days(350), FillLimit: unit.Fraction(0.9)},
		Practice: Practice{Contraction: unit.Fraction(0.96), KettleSpace: unit.Fraction(0.25)},
		Country:  "GB",
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol*1.0000001 || math.IsNaN(got) {
		t.Errorf("%s = %.6g, want %g ± %g", what, got, want, tol)
	}
}

func mustSize(t testing.TB, in Input) Result {
	t.Helper()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestHarbourPlan holds the plan of the harbour-side brewpub to figures computed
// apart from this code by hand from the same formulas; tolerance is half of the
// last digit printed.
func TestHarbourPlan(t *testing.T) {
	r := mustSize(t, harbour())
	near(t, "brew length hL", r.BrewLength.HL(), 10, 1e-9)
	wantTrials := []LengthTrial{{BrewsYear: 247}, {BrewsYear: 156}, {BrewsYear: 125}}
	for i, n := range wantTrials {
		if got := r.Trials[i+2].BrewsYear; got != n.BrewsYear {
			t.Errorf("trial %v: %d brews, want %d", r.Trials[i+2].Length, got, n.BrewsYear)
		}
	}
	near(t, "brews a week", r.Totals.BrewsWeek.N(), 2.60, 0.005)
	near(t, "brews in the peak week", r.Totals.BrewsPeak.N(), 3.26, 0.005)
	rows := []struct {
		batches                                   int
		packaged, malt                            float64
		bags                                      int
		mash, area, dia, wet, liquor, sparge, hot float64
		heatUp, abv, co2, ext, ferment, knockout  float64
	}{
		{27, 487.5, 179.2, 8, 609, 1.086, 1.176, 219.3, 484, 695, 1.179, 32.2, 4.90, 36.81, 79.5, 13.0, 88.2},
		{14, 258.2, 187.4, 8, 637, 1.136, 1.203, 229.3, 506, 677, 1.183, 32.1, 5.23, 39.31, 84.9, 13.8, 97.1},
		{22, 200.7, 154.9, 7, 527, 0.939, 1.093, 189.6, 418, 748, 1.167, 32.3, 4.16, 31.29, 67.6, 11.0, 88.5},
		{14, 127.7, 195.6, 8, 665, 1.186, 1.229, 239.4, 528, 658, 1.187, 32.1, 5.26, 39.50, 85.3, 13.9, 88.0},
		{7, 63.9, 171.1, 7, 582, 1.037, 1.149, 209.4, 462, 713, 1.175, 32.2, 4.92, 37.02, 80.0, 13.0, 86.1},
	}
	for i, w := range rows {
		p := r.Beers[i]
		n := float64(p.BrewsPerTank)
		if p.Batches != w.batches || p.Brew.Bags != w.bags {
			t.Errorf("%s: %d batches, %d bags; want %d, %d", p.Beer.Name, p.Batches, p.Brew.Bags, w.batches, w.bags)
		}
		near(t, p.Beer.Name+" packaged hL", p.Packaged.HL(), w.packaged, 0.05)
		near(t, p.Beer.Name+" malt kg", p.Brew.Malt.Kg(), w.malt, 0.05)
		near(t, p.Beer.Name+" mash L", p.Brew.MashVolume.L(), w.mash, 0.5)
		near(t, p.Beer.Name+" area m²", p.Brew.LauterArea.M2(), w.area, 0.0005)
		near(t, p.Beer.Name+" diameter m", p.Brew.LauterWidth.M(), w.dia, 0.0005)
		near(t, p.Beer.Name+" wet grain kg", p.Brew.WetGrain.Kg(), w.wet, 0.05)
		near(t, p.Beer.Name+" mash liquor L", p.Brew.MashLiquor.L(), w.liquor, 0.5)
		near(t, p.Beer.Name+" sparge L", p.Brew.Sparge.L(), w.sparge, 0.5)
		near(t, p.Beer.Name+" hot liquor hL/hL", p.Brew.LiquorShare.Value(), w.hot, 0.0005)
		near(t, p.Beer.Name+" heat-up kWh", p.Brew.HeatUp.KWh(), w.heatUp, 0.05)
		near(t, p.Beer.Name+" ABV", p.Charge.Attenuation.ABV.Pct(), w.abv, 0.005)
		near(t, p.Beer.Name+" CO2 kg a brew", p.Charge.Mass.CO2.Kg()/n, w.co2, 0.005)
		near(t, p.Beer.Name+" extract fermented kg", p.Charge.Mass.Extract.Kg()/n, w.ext, 0.05)
		near(t, p.Beer.Name+" heat of fermentation kWh", p.Charge.Mass.Heat.KWh()/n, w.ferment, 0.05)
		near(t, p.Beer.Name+" knock-out kWh", knockoutHeat(r, p), w.knockout, 0.05)
		near(t, p.Beer.Name+" hot at cast-out L", p.Brew.HotCast.L(), 1073.9, 0.05)
		near(t, p.Beer.Name+" kettle full L", p.Brew.KettleFull.L(), 1138.3, 0.05)
		near(t, p.Beer.Name+" kettle gross L", p.Brew.KettleGross.L(), 1518, 0.5)
		near(t, p.Beer.Name+" boil kW", p.Brew.BoilPower.KW(), 40.7, 0.05)
		near(t, p.Beer.Name+" strike °C", p.Brew.Strike.C(), 71.60, 0.005)
		near(t, p.Beer.Name+" bed m", p.Brew.Bed.M(), 0.30, 0.005)
		near(t, p.Beer.Name+" wet on malt", p.Brew.WetGrain.Kg()/p.Brew.Malt.Kg(), 1.224, 0.0005)
		near(t, p.Beer.Name+" held on malt", p.Brew.HeldWater.Kg()/p.Brew.Malt.Kg(), 0.914, 0.0005)
	}
}

// knockoutHeat cools a brew from cast to pitch, whatever the mains.
func knockoutHeat(r Result, p BeerPlan) float64 {
	wort := p.Charge.WortMass.Kg() / float64(p.BrewsPerTank)
	return wort * wortHeat(p.Beer.OE.P()) * (96 - p.Beer.Pitch.C()) / 3600
}

func TestHarbourTanks(t *testing.T) {
	r := mustSize(t, harbour())
	rows := []struct {
		name                string
		batches, days, tank int
		gross, mean, peak   float64
	}{
		{"FV20", 41, 661, 3, 26.67, 0.630, 0.787},
		{"FV10", 36, 324, 2, 15.38, 0.463, 0.579},
		{"FV10 sour", 7, 224, 1, 13.33, 0.640, 0.800},
		{"BBT20", 41, 287, 2, 21.33, 0.410, 0.512},
		{"BBT10", 43, 265, 2, 10.56, 0.379, 0.4732}, // 265/700·1.25; the mean rounded first would print 0.474
	}
	if len(r.Classes) != len(rows) {
		t.Fatalf("%d classes, want %d: %+v", len(r.Classes), len(rows), r.Classes)
	}
	for i, w := range rows {
		c := r.Classes[i]
		if c.Name != w.name || c.Batches != w.batches || c.TankDays != w.days || c.Tanks != w.tank {
			t.Errorf("class %d: %s %d batches %d tank-days %d tanks; want %s %d %d %d", i, c.Name, c.Batches, c.TankDays, c.Tanks, w.name, w.batches, w.days, w.tank)
		}
		near(t, w.name+" gross hL", c.Gross.HL(), w.gross, 0.005)
		near(t, w.name+" mean", c.UtilMean.Value(), w.mean, 0.0005)
		near(t, w.name+" peak", c.UtilPeak.Value(), w.peak, 0.0005)
	}
	tot := r.Totals
	near(t, "wort hL", tot.Wort.HL(), 1250, 1e-6)
	near(t, "packaged hL", tot.Packaged.HL(), 1138, 0.05)
	near(t, "malt t", tot.Malt.T(), 22.27, 0.005)
	near(t, "wet grain t", tot.WetGrain.T(), 27.25, 0.005)
	near(t, "brewing liquor hL", tot.BrewingLiquor.HL(), 1472.5, 0.05)
	near(t, "CO2 kg", tot.CO2.Kg(), 4588.6, 0.05)
	near(t, "pure alcohol hL", tot.PureAlcohol.HL(), 55.6, 0.05)
	near(t, "water hL", tot.Water.HL(), 7966, 0.5)
	near(t, "heat kWh", tot.Heat.KWh(), 9116.3, 0.1)
	if tot.Bags != 971 || tot.Brews != 125 {
		t.Errorf("%d bags, %d brews; want 971, 125", tot.Bags, tot.Brews)
	}
	if r.Duty.Step != "5 to 112.5 hL of pure alcohol" {
		t.Errorf("relief step %q", r.Duty.Step)
	}
	t.Logf("late %d unplaced %d, busiest %+v, bottleneck %s", len(r.Late), len(r.Unplaced), r.Weeks[r.Busiest], r.Bottleneck.Words)
}

func BenchmarkSizeFiveBeers(b *testing.B) {
	b.ReportAllocs()
	in := harbour()
	for b.Loop() {
		mustSize(b, in)
	}
}
