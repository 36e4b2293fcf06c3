package brewing

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// The sources of the steps, each cited once.
var (
	refGravity = docPlato.At("P to SG")
	refExtract = source.Derivation("mass of wort times its extract")
	refDensity = docIAPWS.At("regions 1 and 4")
	refTrub    = docExcise.At("annex C: hop and cooler trub 1 to 3 % of hot wort")
	refMalt    = source.Derivation("extract over yield of the malt")
	refGrain   = docFarber.At("moisture of spent grain; mass balance")
	refLiquor  = source.Derivation("mass balance of water")
	refStrike  = docPauls.At("mash temperature; solved for the liquor")
	refMash    = docBYO.At("0.7 L of displacement for each kg")
	refBoil    = docIAPWS.At("heat of evaporation at 100 °C")
	refHeat    = source.Derivation("heat balance")
	refKettle  = docStorchen.At("headspace of the vessel")
	refBalling = docSSB.At("Balling's formula")
	refHenry   = docHenry.At("solubility by pressure and temperature")
	refFV      = docMBAA.At("headspace of cylindroconical tanks")
	refPlan    = source.Derivation("whole batches for the asked volume")
	refTanks   = source.Derivation("tank-days over the days that may be planned")
)

// working writes down the steps a reader with a pocket calculator can follow: the
// year first, then each beer.
func (s *settled) working(r *Result) trace.Trace {
	t := make(trace.Trace, 0, 4+2*len(r.Classes)+22*len(r.Beers))
	s.workYear(&t, r)
	for i := range r.Beers {
		s.workBeer(&t, r, i)
	}
	return t
}

func (s *settled) workYear(t *trace.Trace, r *Result) {
	tot := &r.Totals
	t.Add(trace.Step{
		Title: "brews of the peak week", Symbol: "b", Formula: "s · Σ(n·N) / weeks", Source: refPlan, Result: tot.BrewsPeak,
		Values: []trace.Value{trace.V("s", unit.PureNumber(s.Year.PeakFactor.Value())), trace.V("Σ(n·N)", unit.PureNumber(float64(tot.Brews))), trace.V("weeks", unit.PureNumber(float64(s.Year.Weeks)))},
		Note:   "brew length " + unit.In(r.BrewLength, "hl", 1) + " of cold wort to the fermenter",
	})
	for i := range r.Classes {
		c := &r.Classes[i]
		t.Add(trace.Step{
			Title: c.Name + ": tanks by the average", Symbol: "tanks", Formula: "⌈Σ(N·D) · s / (A · u)⌉", Source: refTanks, Result: unit.PureNumber(float64(c.Tanks)),
			Values: []trace.Value{trace.V("Σ(N·D)", unit.PureNumber(float64(c.TankDays))), trace.V("s", unit.PureNumber(s.Year.PeakFactor.Value())), trace.V("A in days", unit.PureNumber(s.Year.TankDays.D())), trace.V("u", s.Year.FillLimit)},
			Note:   "necessary, not sufficient: the dated schedule decides",
		})
	}
}

func (s *settled) workBeer(t *trace.Trace, r *Result, i int) {
	p, b := &r.Beers[i], &s.beers[i]
	name := p.Beer.Name + ": "
	n, length := unit.PureNumber(float64(p.BrewsPerTank)), r.BrewLength
	t.Add(trace.Step{
		Title: name + "batches", Symbol: "N", Formula: "⌈P / (n · B · y)⌉", Source: refPlan, Result: unit.PureNumber(float64(p.Batches)),
		Values: []trace.Value{trace.V("P", p.Beer.Yearly), trace.V("n", n), trace.V("B", length), trace.V("y", unit.Fraction(b.yield))},
	})
	s.workBrew(t, name, p, b, length)
	workHeat(t, s, name, p)
	workCharge(t, s, name, p, b)
	workTank(t, s, name, p, b, length)
}

func (s *settled) workBrew(t *trace.Trace, name string, p *BeerPlan, b *settledBeer, length unit.Volume) {
	w := &p.Brew
	trub, k := unit.Fraction(s.trub), s.Practice.Contraction
	t.Add(trace.Step{Title: name + "relative density of the wort", Symbol: "SG", Formula: "1 + P/(258.6 − 227.1·P/258.2)", Values: []trace.Value{trace.V("P", b.OE)}, Result: w.Gravity, Source: refGravity})
	t.Add(trace.Step{Title: name + "cold wort in the kettle", Symbol: "V_k", Formula: "B / (1 − l_w)", Values: []trace.Value{trace.V("B", length), trace.V("l_w", trub)}, Result: w.ColdKettle, Source: refTrub})
	t.Add(trace.Step{Title: name + "hot wort at cast-out (100 °C)", Symbol: "V_hot", Formula: "V_k / k", Values: []trace.Value{trace.V("V_k", w.ColdKettle), trace.V("k", k)}, Result: w.HotCast, Source: refDensity})
	t.Add(trace.Step{Title: name + "extract in the kettle", Symbol: "E", Formula: "V_k · SG · 0.9982 · OE/100", Values: []trace.Value{trace.V("V_k", w.ColdKettle), trace.V("SG", w.Gravity), trace.V("OE", b.OE)}, Result: w.Extract, Source: refExtract})
	t.Add(trace.Step{Title: name + "malt", Symbol: "m", Formula: "E / (x · η)", Values: []trace.Value{trace.V("E", w.Extract), trace.V("x", s.Practice.LabExtract), trace.V("η", unit.Fraction(b.eff))}, Result: w.Malt, Source: refMalt})
	t.Add(trace.Step{Title: name + "mash", Symbol: "V_m", Formula: "m · (r + 0.7)", Values: []trace.Value{trace.V("m", w.Malt), trace.V("r", s.Practice.MashRatio)}, Result: w.MashVolume, Source: refMash})
	t.Add(trace.Step{
		Title: name + "wet spent grain", Symbol: "m_wet", Formula: "(m·(1 − w_m) − E) / (1 − w_sg)", Result: w.WetGrain, Source: refGrain,
		Values: []trace.Value{trace.V("m", w.Malt), trace.V("w_m", unit.Fraction(s.moist)), trace.V("E", w.Extract), trace.V("w_sg", s.Practice.GrainMoisture)},
	})
	t.Add(trace.Step{Title: name + "mash liquor", Symbol: "L_m", Formula: "m · r", Values: []trace.Value{trace.V("m", w.Malt), trace.V("r", s.Practice.MashRatio)}, Result: w.MashLiquor, Source: refLiquor})
	t.Add(trace.Step{
		Title: name + "sparge liquor", Symbol: "L_s", Formula: "(m_kf − E) + W − L_m", Result: w.Sparge, Source: refLiquor,
		Values: []trace.Value{trace.V("m_kf", w.KettleMass), trace.V("E", w.Extract), trace.V("W", w.HeldWater), trace.V("L_m", w.MashLiquor)},
	})
	t.Add(trace.Step{
		Title: name + "strike temperature", Symbol: "T_s", Formula: "((r + S)·(T_m − Sc) − S·T_g) / r", Result: w.Strike, Source: refStrike, Note: "mash tun preheated",
		Values: []trace.Value{trace.V("r", s.Practice.MashRatio), trace.V("S", unit.PureNumber(s.relative)), trace.V("T_m", s.Practice.MashRest), trace.V("Sc", unit.Kelvins(s.slaking)), trace.V("T_g", s.Practice.Grist)},
	})
}

func workHeat(t *trace.Trace, s *settled, name string, p *BeerPlan) {
	w := &p.Brew
	t.Add(trace.Step{
		Title: name + "kettle full (hot, before the boil)", Symbol: "V_kf", Formula: "V_hot · (1 + e·t)", Result: w.KettleFull, Source: refBoil,
		Values: []trace.Value{trace.V("V_hot", w.HotCast), trace.V("e", w.EvapShare), trace.V("t", w.BoilTime)},
	})
	t.Add(trace.Step{Title: name + "kettle, least gross volume", Symbol: "V_g", Formula: "V_kf / (1 − h)", Values: []trace.Value{trace.V("V_kf", w.KettleFull), trace.V("h", w.KettleSpace)}, Result: w.KettleGross, Source: refKettle})
	t.Add(trace.Step{
		Title: name + "heat to the boil", Symbol: "Q", Formula: "m_kf · (4.187 − 0.0251·P_kf) · (100 − T)", Result: w.HeatUp, Source: refHeat,
		Values: []trace.Value{trace.V("m_kf", w.KettleMass), trace.V("P_kf", w.KettleExtract), trace.V("T", s.Practice.LauterOut)},
	})
	t.Add(trace.Step{Title: name + "power of the boil", Symbol: "P", Formula: "(M · 2256.5/3600 + UA·(100 − T_a)) / η", Values: boilValues(s, w), Result: w.BoilPower, Source: refBoil})
	if src := s.Brewhouse.Kettle; src != nil && w.EvapFull != nil {
		t.Add(trace.Step{
			Title: name + "evaporation at full power, of cast volume in an hour", Symbol: "e", Formula: "(P·η − UA·(100 − T_a)) · 3600/2256.5 / (0.9584·V_hot)", Result: *w.EvapFull, Source: refBoil,
			Values: []trace.Value{trace.V("P", src.Power), trace.V("η", unit.Fraction(src.efficiency())), trace.V("UA", unit.KilowattsPerK(src.ua())), trace.V("V_hot", w.HotCast)},
		})
	}
	if k := p.Summer; k != nil && k.HotWater > 0 {
		t.Add(trace.Step{
			Title: name + "exchanger of the wort cooler, summer", Symbol: "UA", Formula: "Q / t / LMTD", Result: k.Stage1.UA, Source: refHeat,
			Values: []trace.Value{trace.V("Q", k.Stage1.Heat), trace.V("t", k.Time), trace.V("LMTD", k.Stage1.LMTD)},
		})
	}
}

func workCharge(t *trace.Trace, s *settled, name string, p *BeerPlan, b *settledBeer) {
	c := &p.Charge
	t.Add(trace.Step{Title: name + "real extract", Symbol: "RE", Formula: "0.1808·OE + 0.8192·AE", Values: []trace.Value{trace.V("OE", b.OE), trace.V("AE", b.AE)}, Result: c.Attenuation.RealExtract, Source: refBalling})
	t.Add(trace.Step{Title: name + "alcohol by mass", Symbol: "A", Formula: "(OE − RE) / (2.0665 − 0.010665·OE)", Values: []trace.Value{trace.V("OE", b.OE), trace.V("RE", c.Attenuation.RealExtract)}, Result: c.Attenuation.Alcohol, Source: refBalling})
	t.Add(trace.Step{Title: name + "strength", Symbol: "ABV", Formula: "A · SG / 0.7906", Values: []trace.Value{trace.V("A", c.Attenuation.Alcohol), trace.V("SG", c.Attenuation.Gravity)}, Result: c.Attenuation.ABV, Source: refBalling})
	t.Add(trace.Step{Title: name + "CO2 of a batch", Symbol: "m_CO2", Formula: "0.9565 · m_wort/(1 + 0.010665·A) · A/100", Values: []trace.Value{trace.V("m_wort", c.WortMass), trace.V("A", c.Attenuation.Alcohol)}, Result: c.Mass.CO2, Source: refBalling})
	t.Add(trace.Step{Title: name + "heat of fermentation of a batch", Symbol: "Q_f", Formula: "h · extract fermented", Values: []trace.Value{trace.V("h", s.Practice.FermentHeat), trace.V("extract", c.Mass.Extract)}, Result: c.Mass.Heat, Source: source.Practice("586.6 kJ/kg of extract")})
}

func workTank(t *trace.Trace, s *settled, name string, p *BeerPlan, b *settledBeer, length unit.Volume) {
	n := unit.PureNumber(float64(p.BrewsPerTank))
	t.Add(trace.Step{Title: name + "fermenter, least gross volume", Symbol: "V_FV", Formula: "n · B / (1 − h)", Values: []trace.Value{trace.V("n", n), trace.V("B", length), trace.V("h", p.Headspace)}, Result: p.TankGross, Source: refFV})
	if p.Days.Bright > 0 {
		t.Add(trace.Step{
			Title: name + "bright tank, least gross volume", Symbol: "V_BBT", Formula: "n · B · (1 − l_f) / (1 − h_b)", Result: p.BrightGross, Source: refPlan,
			Values: []trace.Value{trace.V("n", n), trace.V("B", length), trace.V("l_f", unit.Fraction(b.loss)), trace.V("h_b", s.Practice.BrightSpace)},
		})
	}
	t.Add(trace.Step{Title: name + "pressure that holds the carbonation", Symbol: "p", Formula: "c / (10·exp(−10.73797 + 2617.25/(T + 273.15))) − 1.013", Values: []trace.Value{trace.V("c", b.co2), trace.V("T", b.ferment)}, Result: p.Charge.Spunding, Source: refHenry, Note: "at the fermenting temperature"})
}

func boilValues(s *settled, w *BrewSheet) []trace.Value {
	values := []trace.Value{trace.V("M", w.Evaporation), trace.V("η", unit.Fraction(s.sourceShare()))}
	if src := s.Brewhouse.Kettle; src != nil {
		values = append(values, trace.V("UA", unit.KilowattsPerK(src.ua())), trace.V("T_a", s.Practice.Room))
	}
	return values
}
