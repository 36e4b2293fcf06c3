package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// brewSheet works one brew of a beer out, from grist to cast wort.
func (s *settled) brewSheet(b *settledBeer, length unit.Volume) (BrewSheet, error) {
	p, house := s.Practice, s.Brewhouse
	sg, err := PlatoToGravity(b.OE)
	if err != nil {
		return BrewSheet{}, err
	}
	cold := length.L() / (1 - s.trub)
	hot := cold / p.Contraction.Value()
	castKg := cold * sg.SG() * rho20
	extract := unit.Kilograms(castKg * b.OE.P() / 100)
	malt, err := MaltMass(extract, p.LabExtract, unit.Fraction(b.eff))
	if err != nil {
		return BrewSheet{}, err
	}
	wet, held, err := SpentGrain(malt, extract, unit.Fraction(s.moist), p.GrainMoisture)
	if err != nil {
		return BrewSheet{}, err
	}
	strike, err := StrikeTemperature(Mash{Ratio: p.MashRatio, Grist: p.Grist, Relative: unit.Fraction(s.relative), Slaking: unit.Kelvins(s.slaking)}, p.MashRest)
	if err != nil {
		return BrewSheet{}, err
	}
	sh := BrewSheet{
		Gravity: sg, Malt: malt, Bags: roundUp(malt.Kg() / p.BagMass.Kg()), Extract: extract, WetGrain: wet, HeldWater: held, Strike: strike,
		ColdKettle: unit.Litres(cold), HotCast: unit.Litres(hot), BoilTime: p.BoilTime,
		Hops: unit.Kilograms(b.hops.KgHL() * length.HL()), Yeast: unit.Kilograms(b.kind.Yeast.GL() * length.L() / 1000),
	}
	if err := s.tun(&sh, house); err != nil {
		return sh, err
	}
	if err := s.boil(&sh, castKg, b.kettleSpace); err != nil {
		return sh, err
	}
	s.liquor(&sh, length)
	sh.Chain = s.chain(&sh, b, length)
	return sh, nil
}

func (s *settled) tun(sh *BrewSheet, house Brewhouse) error {
	p := s.Practice
	var err error
	if sh.MashVolume, err = MashVolume(sh.Malt, p.MashRatio); err != nil {
		return err
	}
	sh.TunGross = unit.Litres(sh.MashVolume.L() / (1 - p.TunFreeboard.Value()))
	sh.Loading = or(house.MaxLoading, p.MaxLoading)
	if sh.LauterArea, sh.LauterWidth, err = LauterArea(sh.Malt, sh.Loading); err != nil {
		return err
	}
	floor := sh.LauterArea
	if house.LauterArea != nil && house.LauterArea.M2() > 0 {
		floor = *house.LauterArea
		sh.Loading = unit.KgPerM2(sh.Malt.Kg() / floor.M2())
	}
	sh.Bed, err = BedDepth(sh.Malt, floor)
	return err
}

// boil fills in evaporation, the full kettle, heat-up and boil. The heat source is
// turned down to the planned evaporation; one that is too small gives what it can.
func (s *settled) boil(sh *BrewSheet, castKg, space float64) error {
	p, src := s.Practice, s.Brewhouse.Kettle
	hot, hours := sh.HotCast.L(), p.BoilTime.H()
	e := p.Evaporation.Value()
	efficiency := 0.95
	sh.KettleSpace = unit.Fraction(space)
	if src != nil {
		full, err := EvaporationRate(unit.Kilowatts(src.delivered()), unit.KilowattsPerK(src.ua()), p.Room, sh.HotCast)
		if err != nil {
			return err
		}
		full = max(full, 0)
		flow := unit.KgPerHour(full.Value() * hotDensity * hot)
		sh.EvapFull, sh.EvapFullFlow = &full, &flow
		if full > 0 {
			t := unit.Hours(hours * e / full.Value())
			sh.BoilAtFull = &t
		}
		e, efficiency = math.Min(e, full.Value()), src.efficiency()
	}
	sh.EvapShare = unit.Fraction(e)
	sh.Evaporation = unit.KgPerHour(e * hotDensity * hot)
	sh.Evaporated = unit.Kilograms(sh.Evaporation.KgH() * hours)
	sh.KettleMass = unit.Kilograms(castKg + sh.Evaporated.Kg())
	sh.KettleFull = unit.Litres(hot * (1 + e*hours))
	sh.KettleGross = unit.Litres(sh.KettleFull.L() / (1 - space))
	sh.KettleExtract = unit.DegreesPlato(100 * sh.Extract.Kg() / sh.KettleMass.Kg())
	capacity := sh.KettleMass.Kg() * wortHeat(sh.KettleExtract.P())
	sh.HeatUp = unit.Kilojoules(capacity * (boilTemp - p.LauterOut.C()))
	loss := 0.0
	if src != nil {
		loss = src.ua() * (boilTemp - p.Room.C())
	}
	sh.BoilPower = unit.Kilowatts((sh.Evaporation.KgH()*evapHeat/3600 + loss) / efficiency)
	if src == nil {
		return nil
	}
	c := unit.KilojoulesPerK(capacity + s.kettleSteel(sh)*steelHeat)
	t, err := HeatUpTime(c, unit.Kilowatts(src.delivered()), unit.KilowattsPerK(src.ua()), p.LauterOut, unit.Celsius(boilTemp), p.Room)
	if err == nil {
		sh.HeatUpTime = &t
	}
	return nil
}

func (s *settled) kettleSteel(sh *BrewSheet) float64 {
	if s.Brewhouse.KettleMass > 0 {
		return s.Brewhouse.KettleMass.Kg()
	}
	return 25 * or(s.Brewhouse.KettleGross, sh.KettleGross).HL()
}

// liquor fills in mash and sparge liquor by mass balance, and the brew's energy.
func (s *settled) liquor(sh *BrewSheet, length unit.Volume) {
	p := s.Practice
	mash := sh.Malt.Kg() * p.MashRatio.LKg()
	sparge := (sh.KettleMass.Kg() - sh.Extract.Kg()) + sh.HeldWater.Kg() - mash
	sh.MashLiquor, sh.Sparge = unit.Litres(mash), unit.Litres(sparge)
	sh.HotLiquor = unit.Litres(mash + sparge)
	sh.Water = sh.HotLiquor
	sh.LiquorShare = unit.Fraction((mash + sparge) / length.L())
	from := or(s.Water.Winter, unit.Celsius(10)).C()
	sh.LiquorHeat = unit.Kilojoules((mash*(sh.Strike.C()-from) + math.Max(sparge, 0)*(p.LiquorTemp.C()-from)) * waterHeat)
	sh.LiquorSaved = unit.Kilojoules(math.Min(s.reusable(), mash+math.Max(sparge, 0)) * waterHeat * math.Max(0, s.Cooler.WaterOut.C()-from))
	kettle := s.heatUpEnergy(sh) + sh.BoilPower.KW()*p.BoilTime.H()
	sh.Energy = unit.KilowattHours(sh.LiquorHeat.KWh() + kettle)
	sh.EnergyPerHL = unit.KWhPerHL(sh.Energy.KWh() / length.HL())
}

// reusable is the hot liquor in L that can be kept from one knock-out for the next
// brew: what the hot-liquor tank holds.
func (s *settled) reusable() float64 {
	if s.Brewhouse.LiquorTank == nil {
		return 0
	}
	return s.Brewhouse.LiquorTank.L()
}

// heatUpEnergy is what the source gives in kWh until the kettle boils, losses and
// the steel of the vessel included where they are known.
func (s *settled) heatUpEnergy(sh *BrewSheet) float64 {
	if src := s.Brewhouse.Kettle; src != nil && sh.HeatUpTime != nil {
		return src.Power.KW() * sh.HeatUpTime.H()
	}
	return sh.HeatUp.KWh() / s.sourceShare()
}

func (s *settled) sourceShare() float64 {
	if s.Brewhouse.Kettle == nil {
		return 0.95
	}
	return s.Brewhouse.Kettle.efficiency()
}

// chain names every volume of a brew with its state, in the order the liquid goes.
func (s *settled) chain(sh *BrewSheet, b *settledBeer, length unit.Volume) []VolumeStep {
	v := length.L()
	racked := v * (1 - b.loss)
	bright := racked * (1 - s.bright)
	return []VolumeStep{
		{Place: "hot-liquor tank", State: "cold, 20 °C", Volume: sh.HotLiquor, Why: "mash and sparge liquor"},
		{Place: "mash", State: "at the rest", Volume: sh.MashVolume, Why: "grist and mash liquor"},
		{Place: "kettle full", State: "hot, 100 °C, before the boil", Volume: sh.KettleFull, Why: "wort run off"},
		{Place: "kettle at cast-out", State: "hot, 100 °C", Volume: sh.HotCast, Loss: unit.Fraction(1 - sh.HotCast.L()/sh.KettleFull.L()), Why: "evaporated"},
		{Place: "kettle at cast-out", State: "cold, 20 °C", Volume: sh.ColdKettle, Loss: unit.Fraction(1 - s.Practice.Contraction.Value()), Why: "contraction, no loss of extract"},
		{Place: "fermenter", State: "cold, 20 °C, wort", Volume: length, Loss: unit.Fraction(s.trub), Why: "trub and hops"},
		{Place: "racked", State: "cold, beer", Volume: unit.Litres(racked), Loss: unit.Fraction(b.loss), Why: "yeast and sediment"},
		{Place: "out of the bright tank", State: "cold, beer", Volume: unit.Litres(bright), Loss: unit.Fraction(s.bright), Why: "bottoms of the bright tank"},
		{Place: "packaged", State: "cold, beer", Volume: unit.Litres(bright * (1 - s.pack)), Loss: unit.Fraction(s.pack), Why: "packaging"},
	}
}

// charge works one batch in a fermenter out.
func (s *settled) charge(b *settledBeer, n int, length unit.Volume) (Charge, error) {
	a, err := Attenuate(b.OE, b.AE)
	if err != nil {
		return Charge{}, err
	}
	v := length.L() * float64(n)
	mass := unit.Kilograms(v * gravity(b.OE.P()) * rho20)
	f, err := Ferment(mass, a, s.Practice.FermentHeat)
	if err != nil {
		return Charge{}, err
	}
	peak := unit.WattsPerHL(b.kind.PeakHeat.WHL() * s.Practice.FermentHeat.KJKg() / FermentHeat)
	c := Charge{
		Wort: unit.Litres(v), WortMass: mass, Racked: unit.Litres(v * (1 - b.loss)), Packaged: unit.Litres(v * b.yield),
		Attenuation: a, Mass: f, PeakHeat: unit.Watts(peak.WHL() * v / 100), CO2: b.co2,
	}
	if c.DutyABV, err = DutyABV(unit.SG(gravity(b.OE.P())), a.Gravity); err != nil {
		return c, err
	}
	if c.PeakCO2, err = CO2Rate(c.PeakHeat, s.Practice.FermentHeat); err != nil {
		return c, err
	}
	c.CrashHeat = unit.Kilojoules(f.Beer.Kg() * beerHeat * math.Max(0, b.ferment.C()-b.cold.C()))
	c.CrashPower = unit.Watts(c.CrashHeat.J() / s.Practice.CrashTime.S())
	c.Curve = curve(b, c)
	return c, s.carbonate(b, &c)
}

// beerHeat is the specific heat of beer in kJ/(kg·K), common practice.
const beerHeat = 4.05

// carbonate fills in what holds and what makes the carbonation.
func (s *settled) carbonate(b *settledBeer, c *Charge) error {
	var err error
	if c.Residual, err = Dissolved(0, b.ferment); err != nil {
		return fmt.Errorf("carbonation: %w", err)
	}
	if c.Hold, err = SpundingPressure(b.co2, b.cold); err != nil {
		return fmt.Errorf("carbonation: %w", err)
	}
	if c.Spunding, err = SpundingPressure(b.co2, b.ferment); err != nil {
		return fmt.Errorf("carbonation: %w", err)
	}
	if b.Package == "cask" && !b.Natural {
		return nil // it finishes in the cask
	}
	if b.Natural {
		needs := unit.BarGauge(math.Max(0, c.Spunding.BarG()) + staticHead(c.Wort).Bar())
		c.TankNeeds = &needs
		return nil
	}
	c.AddedCO2 = unit.Kilograms(math.Max(0, b.co2.GL()-c.Residual.GL()) * c.Racked.L() / 1000)
	return nil
}

// staticHead is the pressure of the beer's own depth at the bottom of a tank about
// 2.2 diameters of liquid high: the height is (4·2.2²·V/π)^(1/3).
func staticHead(v unit.Volume) unit.PressureDiff {
	h := math.Cbrt(4 * 2.2 * 2.2 * v.M3() / math.Pi)
	return unit.Pascals(1010 * 9.81 * h)
}

// curve spreads the extract over the days of fermentation: 8, 27, 27, 27 and 11 % in
// the fifths of the time that the kind of beer takes.
func curve(b *settledBeer, c Charge) []CurvePoint {
	days := max(b.days.Ferment, 1)
	out := make([]CurvePoint, days)
	before := 0.0
	for d := range out {
		done := fermentedBy(float64(d+1) / float64(days))
		heat := c.Mass.Heat.J() * (done - before) / 86400
		out[d] = CurvePoint{
			Day: d + 1, Fermented: unit.Fraction(done), Extract: unit.DegreesPlato(b.OE.P() - done*(b.OE.P()-b.AE.P())),
			Heat: unit.Watts(heat), CO2: unit.KgPerHour(c.Mass.CO2.Kg() * (done - before) / 24), Given: unit.Kilograms(c.Mass.CO2.Kg() * done),
		}
		before = done
	}
	return out
}

// fiveDayShares is the split of heat over a five-day ale: practitioners' figures.
var fiveDayShares = [6]float64{0, 0.08, 0.35, 0.62, 0.89, 1}

// fermentedBy is the share of extract fermented at a share of the time.
func fermentedBy(x float64) float64 {
	x = math.Min(math.Max(x, 0), 1) * 5
	i := min(int(x), 4)
	return fiveDayShares[i] + (fiveDayShares[i+1]-fiveDayShares[i])*(x-float64(i))
}
