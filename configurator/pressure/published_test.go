package pressure

import (
	"testing"

	"pgregory.net/rapid"

	"tunwright/catalog/unit"
)

// TestCategories holds the tables of the directive at and beside their lines.
func TestCategories(t *testing.T) {
	for _, c := range []struct {
		source   string
		kind     Kind
		contents Contents
		ps, v    float64
		want     Category
	}{
		// source: Directive 2014/68/EU Art. 4(1)(a), outer limits, read in decree 99-1046 Art. 3
		{"0.5 bar is out", Tank, BeerCO2, 0.5, 5000, Out},
		{"50 bar·L is SEP", Tank, BeerCO2, 1, 50, SEP},
		{"above 50 bar·L", Tank, BeerCO2, 1, 50.1, I},
		{"1 L up to 1000 bar", Tank, CO2, 1000, 1, SEP},
		{"1 L above 1000 bar", Tank, CO2, 1001, 1, III},
		{"1 L above 3000 bar", Tank, CO2, 3001, 1, IV},
		{"liquid to 10 bar at any volume", Exchanger, Coolant, 10, 100000, SEP},
		{"liquid above 10 bar, 10 000 bar·L", Exchanger, Coolant, 20, 500, SEP},
		{"liquid above 10 bar and 10 000 bar·L", Exchanger, Coolant, 20, 501, I},
		{"group 1 gas above 25 bar·L", Tank, Flammable, 20, 2, Spec},
		{"group 1 gas to 25 bar·L", Tank, Flammable, 20, 1.25, SEP},
		// source: Directive 2014/68/EU Annex II Table 2, inner lines from memory
		{"200 bar·L is I", Tank, BeerCO2, 2, 100, I},
		{"above 200 bar·L", Tank, BeerCO2, 2, 100.5, II},
		{"1000 bar·L is II", Tank, BeerCO2, 2, 500, II},
		{"above 1000 bar·L", Tank, BeerCO2, 2, 501, III},
		{"3000 bar·L is III", Tank, BeerCO2, 10, 300, III},
		{"above 3000 bar·L at 10 bar", Tank, BeerCO2, 10, 301, IV},
		{"above 3000 bar·L at 4 bar", Tank, BeerCO2, 4, 1000, III},
		{"above 3000 bar·L at 4.1 bar", Tank, BeerCO2, 4.1, 1000, IV},
		// source: Directive 2014/68/EU Annex II Table 4, from memory
		{"liquid at 600 bar, 20 L", Exchanger, Caustic, 600, 20, II},
		{"liquid at 400 bar, 100 L", Exchanger, Caustic, 400, 100, I},
		// source: Directive 2014/68/EU Annex II Table 5, from memory
		{"steam 2 L", Generator, Steam, 8, 2, SEP},
		{"steam 50 bar·L", Generator, Steam, 10, 5, I},
		{"steam 200 bar·L", Generator, Steam, 10, 20, II},
		{"steam 3000 bar·L", Generator, Steam, 10, 300, III},
		{"steam above 3000 bar·L", Generator, Steam, 10, 301, IV},
		{"steam above 1000 L", Generator, Steam, 1, 1001, IV},
		{"steam above 32 bar", Generator, Steam, 33, 5, IV},
		// source: Directive 2014/68/EU Art. 1(2), read in decree 99-1046 Art. 2
		{"keg 50 L at 7 bar", Keg, BeerCO2, 7, 50, Out},
		{"keg above 500 bar·L", Keg, BeerCO2, 7, 80, II},
		{"keg above 7 bar", Keg, BeerCO2, 8, 50, II},
		{"bottle", Bottle, BeerCO2, 9, 0.5, Out},
		{"gas cylinder", Cylinder, CO2, 200, 50, Out},
		{"warm-water heating", Heating, Water, 6, 200, Out},
		{"open kettle", Tank, Atmosphere, 0, 1500, Out},
		// source: Directive 2014/29/EU Art. 1: 50 to 10 000 bar·L, at most 30 bar
		{"receiver 11 bar 270 L", Receiver, Air, 11, 270, SPV},
		{"receiver 50 bar·L", Receiver, Air, 10, 5, SEP},
		{"receiver 10 000 bar·L", Receiver, Air, 10, 1000, SPV},
		{"receiver above 10 000 bar·L", Receiver, Air, 10, 1001, IV},
		{"receiver above 30 bar", Receiver, Nitrogen, 31, 100, IV},
		{"extinguisher at least III", Extinguish, CO2, 60, 2, III},
		{"pressure cooker", Cooker, Steam, 0.4, 100, III},
		{"steam jacket 60 L at 3 bar", Tank, Steam, 3, 60, I},
	} {
		v, err := Classify(c.kind, c.contents, unit.BarGauge(c.ps), unit.Litres(c.v), nil)
		if err != nil {
			t.Fatalf("%s: %v", c.source, err)
		}
		if v.Category != c.want {
			t.Errorf("%s: %s, want %s", c.source, v.Category, c.want)
		}
		if v.Words == "" || v.Source.IsZero() {
			t.Errorf("%s: no reason or source", c.source)
		}
	}
}

// TestVolumeLimits holds the look-up of a brewery's tanks: largest volume in litres of
// each category at a pressure.
func TestVolumeLimits(t *testing.T) {
	// source: Directive 2014/68/EU Annex II Table 2 by arithmetic, 50, 200 and 1000 bar·L over PS
	for _, c := range []struct{ ps, sep, one, two float64 }{{1, 50, 200, 1000}, {1.5, 33, 133, 666}, {2, 25, 100, 500}, {2.5, 20, 80, 400}, {3, 16, 66, 333}} {
		for _, x := range []struct {
			v    float64
			want Category
			next Category
		}{{c.sep, SEP, I}, {c.one, I, II}, {c.two, II, III}} {
			at, err := GasVessel(unit.BarGauge(c.ps), unit.Litres(x.v))
			if err != nil {
				t.Fatal(err)
			}
			over, _ := GasVessel(unit.BarGauge(c.ps), unit.Litres(x.v+1))
			if at.Category != x.want || over.Category != x.next {
				t.Errorf("%.1f bar: %.0f L is %s and one more %s, want %s and %s", c.ps, x.v, at.Category, over.Category, x.want, x.next)
			}
		}
	}
}

func TestPipes(t *testing.T) {
	// source: Directive 2014/68/EU Annex II Tables 7 and 9, from memory
	for _, c := range []struct {
		contents Contents
		ps, dn   float64
		want     Category
	}{
		{CO2, 40, 32, SEP},
		{CO2, 40, 32.5, I},
		{CO2, 10, 100, SEP},
		{CO2, 11, 100, I},
		{CO2, 20, 150, I},
		{CO2, 35, 125, II},
		{CO2, 20, 300, III},
		{Steam, 3, 50, SEP},
		{Coolant, 10, 400, SEP},
		{Coolant, 16, 200, SEP},
		{Coolant, 20, 300, I},
		{Coolant, 600, 250, II},
		{CO2, 0.4, 300, Out},
	} {
		dn := unit.Millimetres(c.dn)
		v, err := Classify(Pipe, c.contents, unit.BarGauge(c.ps), unit.Litres(1), &dn)
		if err != nil {
			t.Fatal(err)
		}
		if v.Category != c.want {
			t.Errorf("%s at %.1f bar in DN %.0f: %s, want %s", c.contents, c.ps, c.dn, v.Category, c.want)
		}
	}
}

func TestBoundariesTable(t *testing.T) {
	if boundaries.Len() != 13 || consequenceTable.Len() != 8 {
		t.Errorf("%d boundaries and %d consequences, 13 and 8 were transcribed", boundaries.Len(), consequenceTable.Len())
	}
	rising := []float64{t2SEP, t2I, t2II, t2III}
	for i := 1; i < len(rising); i++ {
		if rising[i] <= rising[i-1] {
			t.Errorf("the lines of Table 2 do not rise: %v", rising)
		}
	}
	for _, key := range []float64{outPS, t2Small, t2Low, t4PS, t4PV, t5I, t5II, t5III, pressureK} {
		if key == 0 {
			t.Error("a named boundary is missing from the table")
		}
	}
}

func TestWrittenScheme(t *testing.T) {
	// source: PSSR 2000 as HSE INDG178 and insurers' guides put it: steam at any pressure; gas of 250 bar·L and more
	for _, c := range []struct {
		kind     Kind
		contents Contents
		ps, v    float64
		want     bool
	}{
		{Tank, BeerCO2, 1, 249, false},
		{Tank, BeerCO2, 1, 250, true},
		{Tank, BeerCO2, 2, 125, true},
		{Tank, BeerCO2, 3, 83, false},
		{Tank, BeerCO2, 1.5, 167, true},
		{Generator, Steam, 0.4, 5, true},
		{Tank, Steam, 3, 10, true},
		{Receiver, Air, 11, 22, false},
		{Receiver, Air, 11, 23, true},
		{Keg, BeerCO2, 7, 50, false},
		{Tank, Coolant, 4, 500, false},
		{Tank, Atmosphere, 0, 2000, false},
	} {
		if got := inUse(GB, c.kind, c.contents, unit.BarGauge(c.ps), unit.Litres(c.v)); got.Scheme != c.want || got.Words == "" {
			t.Errorf("%s of %.0f L at %.1f bar: scheme %v, want %v (%s)", c.contents, c.v, c.ps, got.Scheme, c.want, got.Words)
		}
	}
}

func TestEquilibrium(t *testing.T) {
	// source: carbonation chart of the ASBC, psi gauge, from memory; the chart prints one decimal
	for _, c := range []struct{ f, vol, psi float64 }{{32, 2.5, 8.4}, {36, 2.5, 10.2}, {40, 2.5, 12.3}, {38, 2.6, 12.4}, {40, 2.3, 10.3}, {50, 2.5, 17.6}} {
		p, err := EquilibriumPressure(unit.CO2Volumes(c.vol), unit.Fahrenheit(c.f))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "psi", p.PSIG(), c.psi, 0.35)
	}
}

func TestUnitedStates(t *testing.T) {
	// source: ASME BPVC VIII-1 U-1 as quoted by the Brewers Association: above 15 psi
	for psi, want := range map[float64]Category{15: Out, 15.1: Code, 30: Code} {
		if v := usVerdict(Tank, BeerCO2, unit.PSIGauge(psi)); v.Category != want {
			t.Errorf("%.1f psi: %s, want %s", psi, v.Category, want)
		}
	}
}

// A larger vessel or a higher pressure never falls into a lower category, once it
// is in scope.
func TestCategoryMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps, v := rapid.Float64Range(0.6, 40).Draw(t, "ps"), rapid.Float64Range(1.1, 5000).Draw(t, "v")
		up := rapid.Float64Range(1, 3).Draw(t, "up")
		for _, c := range []struct {
			kind     Kind
			contents Contents
		}{{Tank, BeerCO2}, {Exchanger, Coolant}, {Generator, Steam}} {
			rank := func(ps, v float64) int {
				x, err := Classify(c.kind, c.contents, unit.BarGauge(ps), unit.Litres(v), nil)
				if err != nil {
					t.Fatal(err)
				}
				return x.Category.rank()
			}
			if rank(ps, v*up) < rank(ps, v) || rank(ps*up, v) < rank(ps, v) {
				t.Fatalf("%s: %.2f bar %.1f L falls when multiplied by %.2f", c.contents, ps, v, up)
			}
		}
	})
}

// More flow or a lower set pressure never asks for a smaller valve.
func TestReliefMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, set := rapid.Float64Range(1, 500).Draw(t, "kg/h"), rapid.Float64Range(0.2, 10).Draw(t, "set")
		area := func(m, set float64) float64 {
			a, err := GasRelief(unit.KgPerHour(m), unit.BarGauge(set), unit.Celsius(15))
			if err != nil {
				t.Fatal(err)
			}
			return a.MM2()
		}
		if area(m*1.1, set) < area(m, set) || area(m, set*0.9) < area(m, set) {
			t.Fatalf("%.1f kg/h at %.2f bar: the area falls", m, set)
		}
	})
}

// Where the flow turns from the speed of sound to below it the area does not jump.
func TestReliefContinuous(t *testing.T) {
	// critical where 1.1·set + 1.01325 = 1.01325/0.5475
	at := (1.01325/0.5475 - 1.01325) / 1.1
	below, _ := GasRelief(unit.KgPerHour(60), unit.BarGauge(at*0.9999), unit.Celsius(15))
	above, _ := GasRelief(unit.KgPerHour(60), unit.BarGauge(at*1.0001), unit.Celsius(15))
	near(t, "area either side of the critical ratio", below.MM2(), above.MM2(), 0.01)
}
