package brewing

import (
	"math"
	"strings"
	"testing"
	"time"

	"tunwright/catalog/unit"
)

// TestHarbourOnItsOwnTanks lays the year on just the tanks that the average formula
// gives: no batch is late.
func TestHarbourOnItsOwnTanks(t *testing.T) {
	in := harbour()
	in.Brewhouse.BrewLength = unit.Hectolitres(10)
	in.Fermenters = append(append(tanks(3, 26.67, 2, ""), tanks(2, 15.39, 2, "")...), tanks(1, 13.34, 2, "sour")...)
	in.Brights = append(tanks(2, 21.34, 2, ""), tanks(2, 10.56, 2, "")...)
	r := mustSize(t, in)
	if len(r.Late) != 0 || len(r.Unplaced) != 0 || len(r.Batches) != 84 {
		t.Errorf("%d late, %d unplaced of %d", len(r.Late), len(r.Unplaced), len(r.Batches))
	}
}

// TestElevenDaysEveryFive: batches of 11 days begun every 5 days need 3 tanks although
// 11/5 is 2.2.
func TestElevenDaysEveryFive(t *testing.T) {
	var s settled
	r := Result{Beers: []BeerPlan{{Class: "FV", Days: Stages{Ferment: 11}}}, Classes: []TankClass{{Name: "FV"}}}
	var reqs []request
	for d := 0; d < 300; d += 5 {
		reqs = append(reqs, request{day: d})
	}
	s.overlaps(&r, reqs)
	if r.Classes[0].Overlap != 3 {
		t.Errorf("overlap %d, want 3", r.Classes[0].Overlap)
	}
}

// TestLagerOnSummerMains: worked by hand for 1,000 L of 12 °P, 96 to 22 °C on mains of
// 18 °C in the first stage with water to 75 °C, then to 10 °C.
func TestLagerOnSummerMains(t *testing.T) {
	in := harbour()
	in.Brewhouse.BrewLength = unit.Hectolitres(10)
	in.Water.Summer = ptr(unit.Celsius(18))
	in.Cooler = Cooler{Stages: 2, Approach: unit.Kelvins(4)}
	k := mustSize(t, in).Beers[1].Summer
	near(t, "stage 1 kWh", k.Stage1.Heat.KWh(), 83.6, 0.05)
	near(t, "water hL/hL", k.Ratio.Value(), 1.26, 0.005)
	near(t, "LMTD", k.Stage1.LMTD.K(), 10.25, 0.005)
	near(t, "stage 2 kWh", k.Stage2.Heat.KWh(), 13.6, 0.05)
	near(t, "stage 2 kW", k.Stage2.Power.KW(), 18.1, 0.05)
	near(t, "chilled liquor kg", k.Stage2.Chilled.Kg(), 896, 1)
	if !k.Reaches {
		t.Error("two stages should reach 10 °C")
	}
}

// TestHarbourHandling: 8 bags and 239 kg of wet grain a brew, 464 kg of malt, 568 kg of
// grain and 47 kegs of 50 L in a mean week; worked by hand.
func TestHarbourHandling(t *testing.T) {
	in := harbour()
	in.Handling = Handling{UpperFloor: true, LiftLoad: ptr(unit.Kilograms(230)), Hopper: ptr(unit.Metres(1.5))}
	r := mustSize(t, in)
	h := r.Handling
	if h.Bags != 8 || h.Zone != "above shoulder" || h.Bins != 2 {
		t.Errorf("%d bags, zone %q, %d bins", h.Bags, h.Zone, h.Bins)
	}
	near(t, "wet grain kg", h.GrainBrew.Kg(), 239.4, 0.05)
	near(t, "full bin kg", h.BinMass.Kg(), 156, 0.5)
	near(t, "malt of a mean week", r.Totals.Malt.Kg()/48, 464, 0.5)
	near(t, "grain of a mean week", r.Totals.WetGrain.Kg()/48, 568, 0.5)
	near(t, "kegs of a mean week", r.Totals.Packaged.L()/48/50, 47, 0.5)
	// 200 kg on 230 − 40 − 90 = 100 kg a trip.
	if *h.MaltTrips != 2 || *h.GrainTrips != 3 {
		t.Errorf("%d trips up, %d down; want 2, 3", *h.MaltTrips, *h.GrainTrips)
	}
}

// TestTankMasses: 20 hL of 12 °P weigh 2,093 kg; 26.67 hL of water to the brim 2,662 kg;
// and, a rule of thumb of the trade, a 650 L tank carries about 700 kg of wort.
func TestTankMasses(t *testing.T) {
	r := mustSize(t, harbour())
	for _, v := range r.Vessels {
		if v.Tag == "FV 1" {
			near(t, "working kg", v.Working.Kg(), 2093, 0.5)
			near(t, "brim-full kg", v.Brim.Kg(), 2662, 0.5)
		}
		if v.State == "" || v.Gross.L() < v.Net.L()*(1-1e-9) {
			t.Errorf("%s: %v in %v, state %q", v.Tag, v.Net, v.Gross, v.State)
		}
	}
	near(t, "650 L of wort", 650*gravity(12)*rho20, 700, 25)
}

func TestServingTanks(t *testing.T) {
	in := Input{Year: Year{Weeks: 50}, Beers: []Beer{{Name: "House", Kind: KegAle, Yearly: unit.Hectolitres(200), OE: 11, AE: 2.2, Package: "tank"}}}
	r := mustSize(t, in)
	last := r.Classes[len(r.Classes)-1]
	if last.Dedicated != serving || last.Needed < 2 {
		t.Errorf("serving class %+v: one tank sells while the next is filled", last)
	}
	for _, b := range r.Brights {
		if !strings.HasPrefix(b.Tank.Tag, "ST ") {
			t.Errorf("tag %q", b.Tank.Tag)
		}
	}
	near(t, "days on sale", float64(r.Beers[0].Days.Bright), 365/float64(r.Beers[0].Batches)+1, 1)
}

// TestKettleSourHoldsTheKettle: no brew begins while a sour rests.
func TestKettleSourHoldsTheKettle(t *testing.T) {
	in := harbour()
	in.Beers[2].Kind = KettleSour
	in.Year.BrewsPerWeek = 5
	r := mustSize(t, in)
	var taken [horizon]int
	for i, b := range r.Batches {
		for _, d := range b.Brews {
			rest := max(r.Beers[b.Beer].KettleDays, 1)
			for k := d; k < d+rest; k++ {
				if taken[k] != 0 {
					t.Fatalf("day %d: batches %d and %d", k, taken[k]-1, i)
				}
				taken[k] = i + 1
			}
			if r.Beers[b.Beer].KettleDays > 0 && b.Start != d+2 {
				t.Errorf("filled on day %d, brewed on %d", b.Start, d)
			}
		}
	}
}

// TestBrewDayOfSharedVessels: a kettle that is also the mash tun cannot begin the second
// mash before the first wort is out; three vessels can.
func TestBrewDayOfSharedVessels(t *testing.T) {
	in := fitted()
	in.Brewhouse.LiquorTank = ptr(unit.Litres(3000))
	apart := mustSize(t, in).BrewDays[1]
	in.Brewhouse.MashVessel, in.Brewhouse.KettleVessel = "mash kettle", "mash kettle"
	in.Brewhouse.LauterVessel, in.Brewhouse.WhirlpoolVessel = "lauter whirlpool", "lauter whirlpool"
	shared := mustSize(t, in).BrewDays[1]
	if shared.Cycle <= apart.Cycle || shared.Length <= apart.Length {
		t.Errorf("shared %v, apart %v", shared.Cycle, apart.Cycle)
	}
	for _, a := range shared.Steps {
		for _, b := range shared.Steps {
			if a.Vessel == b.Vessel && a.Brew < b.Brew && a.Start < b.End-1e-6 && b.Start < a.End-1e-6 {
				t.Errorf("%s of brew %d and %s of brew %d share %s", a.Name, a.Brew, b.Name, b.Brew, a.Vessel)
			}
		}
	}
}

func TestDutyThresholds(t *testing.T) {
	in := harbour()
	in.Beers[0].Container = unit.Litres(19.5)
	in.Beers[1].OE, in.Beers[1].AE = unit.DegreesPlato(20), unit.DegreesPlato(4)
	r := mustSize(t, in)
	met := map[string]bool{}
	for _, row := range r.Duty.Rows {
		met[row.Name] = row.Met
		if row.Instrument.IsZero() || !strings.Contains(row.Note, CheckText) {
			t.Errorf("%s: instrument and note must be said", row.Name)
		}
	}
	if met["Pale ale: draught relief"] || !met["Bitter: draught relief"] || met["Lager: strength"] || !met["small producer relief"] {
		t.Errorf("met: %v", met)
	}
	in.Country = "IE"
	if rows := mustSize(t, in).Duty.Rows; len(rows) != 2 || !rows[0].Met || !rows[1].Met {
		t.Errorf("Ireland: %+v", rows)
	}
}

func TestReliefSteps(t *testing.T) {
	for _, c := range []struct {
		hl, abv float64
		next    float64
	}{{4, 4.5, 5}, {5, 4.5, 5}, {111, 4.5, 112.5}, {225, 4.5, 225}, {300, 4.5, 4500}, {49, 3.0, 50}, {5000, 4.5, 0}} {
		if _, next := reliefStep(unit.Hectolitres(c.hl), c.abv); next.HL() != c.next {
			t.Errorf("%g hL at %g %%: next %g, want %g", c.hl, c.abv, next.HL(), c.next)
		}
	}
}

func TestGrowthNamesWhatIsShort(t *testing.T) {
	r := mustSize(t, harbour())
	if len(r.Growth) != 3 || r.Growth[0].Fits || !strings.Contains(r.Growth[0].Words, "brews in the peak week") {
		t.Errorf("%+v", r.Growth)
	}
	for i, g := range r.Growth {
		if i > 0 && (g.Brews <= r.Growth[i-1].Brews || g.Packaged <= r.Growth[i-1].Packaged) {
			t.Errorf("growth %v does not rise", g.By)
		}
	}
	if r.Bottleneck.Name != "brew days" {
		t.Errorf("bottleneck %q", r.Bottleneck.Name)
	}
}

func TestDatesAndWeeks(t *testing.T) {
	in := harbour()
	if !mustSize(t, in).Date(3).IsZero() {
		t.Error("an undated plan has no dates")
	}
	in.Year.First = time.Date(2027, 1, 4, 0, 0, 0, 0, time.UTC)
	r := mustSize(t, in)
	if got := r.Date(10).Format(time.DateOnly); got != "2027-01-14" {
		t.Errorf("day 10 is %s", got)
	}
	brews, malt := 0, 0.0
	for _, w := range r.Weeks {
		brews += w.Brews
		malt += w.Malt.Kg()
		if w.Closed && w.Brews > 0 {
			t.Errorf("week %d is closed and brews", w.Number)
		}
	}
	if brews != r.Totals.Brews {
		t.Errorf("%d brews in weeks, %d in the year", brews, r.Totals.Brews)
	}
	near(t, "malt of the weeks", malt, r.Totals.Malt.Kg(), 1e-6)
}

func TestImpossibleInputs(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Input)
		says   string
	}{
		"no beer":       {func(in *Input) { in.Beers = nil }, "at least one beer"},
		"no weeks":      {func(in *Input) { in.Year.Weeks = 0 }, "weeks"},
		"no volume":     {func(in *Input) { in.Beers[0].Yearly = 0 }, "yearly volume"},
		"negative tank": {func(in *Input) { in.Fermenters = []Tank{{Tag: "FV 9", Gross: -1}} }, "FV 9"},
		"kind":          {func(in *Input) { in.Beers[0].Kind = "mead" }, "mead"},
		"twins":         {func(in *Input) { in.Beers[1].Name = in.Beers[0].Name }, "both called"},
		"unnamed":       {func(in *Input) { in.Beers[1].Name = "" }, "no name"},
		"AE above OE":   {func(in *Input) { in.Beers[0].AE = 15 }, "apparent extract"},
		"free energy":   {func(in *Input) { in.Practice.FermentHeat = unit.KilojoulesPerKg(1217) }, "heat of fermentation"},
		"fermentation of 0 days": {func(in *Input) {
			in.Beers[0].FermentDays, in.Beers[0].MatureDays, in.Beers[0].ColdDays, in.Beers[0].TurnDays = days(0), days(0), days(0), days(0)
		}, "no day"},
	} {
		in := harbour()
		c.change(&in)
		_, err := Size(in)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestColdLiquorCoolsLager(t *testing.T) {
	in := fitted()
	in.Cooler = Cooler{Stages: 1, ColdLiquor: true}
	k := mustSize(t, in).Beers[1].Summer
	if !k.Reaches || k.Stage2 != nil || k.Coolant.C() != 3 {
		t.Fatalf("%+v", k)
	}
	// All of the wort's heat is in the liquor, which is chilled from 18 to 3 °C again.
	near(t, "liquor L", k.Stage1.Water.L(), k.Stage1.Heat.KJ()/4.19/72, 1e-6)
	near(t, "refill kWh", k.Refill.KWh(), k.Stage1.Water.L()*4.19*15/3600, 1e-6)
}

// TestSmallExchangerHandsOver: a first stage too small for its approach leaves more to
// the second, and the heat of both is the whole.
func TestSmallExchangerHandsOver(t *testing.T) {
	in := fitted()
	in.Cooler.UA = ptr(unit.KilowattsPerK(8))
	small := mustSize(t, in).Beers[1].Summer
	in.Cooler.UA = nil
	large := mustSize(t, in).Beers[1].Summer
	if small.Stage1To <= large.Stage1To || small.Time != large.Time {
		t.Errorf("small ends at %v in %v, large at %v in %v", small.Stage1To, small.Time, large.Stage1To, large.Time)
	}
	near(t, "UA used", small.Stage1.UA.KWK(), 8, 1e-3)
	for _, k := range []*Knockout{small, large} {
		near(t, "heat of both stages", k.Stage1.Heat.KWh()+k.Stage2.Heat.KWh(), k.Total.KWh(), 1e-9)
	}
	in.Cooler = Cooler{Stages: 1, UA: ptr(unit.KilowattsPerK(5))}
	if one := mustSize(t, in).Beers[0].Summer; one.Time.Min() < 60 {
		t.Errorf("one small stage takes %v", one.Time)
	}
}

// TestSecondMashWaitsForTheTun: mash 20, stand 75, run-off 120 and dig 25 minutes hold
// a tun for 240; the kettle is free sooner.
func TestSecondMashWaitsForTheTun(t *testing.T) {
	in := fitted()
	in.Brewhouse.LiquorTank = ptr(unit.Litres(3000))
	near(t, "cycle min", mustSize(t, in).BrewDays[1].Cycle.Min(), 240, 1e-9)
}

// TestSourGetsATankOfItsOwn: where no tank is told to be for sours, the smallest that
// takes one is kept.
func TestSourGetsATankOfItsOwn(t *testing.T) {
	in := fitted()
	in.Fermenters = append(tanks(4, 27, 2, ""), tanks(4, 15.5, 2, "")...)
	r := mustSize(t, in)
	kept := 0
	for _, tank := range r.Fermenters {
		if tank.Tank.Class == "sour" {
			kept++
			near(t, "kept tank hL", tank.Tank.Gross.HL(), 15.5, 1e-9)
		}
	}
	if kept != 1 || len(r.Unplaced) != 0 {
		t.Errorf("%d tanks kept, %d batches unplaced", kept, len(r.Unplaced))
	}
	for _, tank := range in.Fermenters {
		if tank.Class != "" {
			t.Error("the caller's tanks were changed")
		}
	}
}

func TestCleaningFollowsTheBatches(t *testing.T) {
	r := mustSize(t, fitted())
	cleaned := 0
	for i := range r.Fermenters {
		cleaned += r.Clean[i].Year
		near(t, "solution L", r.Clean[i].Solution.L(), 0.05*r.Fermenters[i].Tank.Gross.L(), 1e-9)
	}
	if cleaned != len(r.Batches) {
		t.Errorf("%d cleanings of %d batches", cleaned, len(r.Batches))
	}
}

// TestBoughtCarbonation by hand: 4.8 g/L less what stays dissolved at 20 °C without
// pressure, 1.013·1.637 = 1.66 g/L, in 940 L is 2.95 kg.
func TestBoughtCarbonation(t *testing.T) {
	in := harbour()
	in.Beers[0].BrewsPerTank = 1
	c := mustSize(t, in).Beers[0].Charge
	near(t, "added CO2 kg", c.AddedCO2.Kg(), 2.95, 0.005)
	in.Beers[0].Natural = true
	if c = mustSize(t, in).Beers[0].Charge; c.AddedCO2 != 0 || c.TankNeeds == nil {
		t.Errorf("natural carbonation buys %v", c.AddedCO2)
	}
}

// TestStrongWortWeighsMore: 20 hL of 18 °P are 2,145 kg (1.07414·0.9982·2,000).
func TestStrongWortWeighsMore(t *testing.T) {
	in := harbour()
	in.Beers[0].OE, in.Beers[0].AE = unit.DegreesPlato(18), unit.DegreesPlato(4)
	found := 0
	for _, v := range mustSize(t, in).Vessels {
		if v.Tag == "FV 1" {
			found++
			near(t, "working kg", v.Working.Kg(), 2144.4, 0.5)
		}
	}
	if found == 0 {
		t.Fatal("there is no FV 1")
	}
}

// TestWorkingCanBeFollowed: every step names its formula, its values and its source.
func TestWorkingCanBeFollowed(t *testing.T) {
	r := mustSize(t, fitted())
	if len(r.Trace) < 20*len(r.Beers) {
		t.Errorf("%d steps for %d beers", len(r.Trace), len(r.Beers))
	}
	for _, s := range r.Trace {
		if s.Title == "" || s.Symbol == "" || s.Formula == "" || s.Source.IsZero() || len(s.Values) == 0 || math.IsNaN(s.Result.SI()) {
			t.Errorf("%+v", s)
		}
	}
}

// TestDefaultsAreOwned: what a bare enquiry does not say is listed as assumed, and what
// it says is not.
func TestDefaultsAreOwned(t *testing.T) {
	bare := Input{Beers: []Beer{{Name: "Pale", Kind: KegAle, Yearly: unit.Hectolitres(300), OE: 11, AE: 2.2}}, Year: Year{Weeks: 48}}
	has := func(in Input, field string) bool {
		for _, a := range mustSize(t, in).Assumptions {
			if a.Words == "" || a.Quantity == nil {
				t.Errorf("%s is listed without words or figure", a.Field)
			}
			if a.Field == field {
				return true
			}
		}
		return false
	}
	for _, field := range []string{"Practice.Efficiency", "Practice.Evaporation", "Year.PeakFactor", "Beers.FermentDays", "Beers.Pitch", "Beers.CO2", "Cooler.WaterOut"} {
		if !has(bare, field) {
			t.Errorf("%s is taken in silence", field)
		}
	}
	bare.Practice.Efficiency = unit.Fraction(0.84)
	if has(bare, "Practice.Efficiency") {
		t.Error("an efficiency that was told is listed as assumed")
	}
}
