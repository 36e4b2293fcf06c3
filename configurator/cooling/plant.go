package cooling

import (
	"cmp"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// plant lays the circuit, sums the duty and sets it against chiller, store and place.
func (d *design) plant() error {
	d.summary()
	s := &d.res.Load
	if err := d.layCircuit(s.Design.W()); err != nil {
		return err
	}
	s.Pipe, s.Pump = d.res.Circuit.Gain, d.res.Circuit.Shaft
	margin := or(&d.a, d.in.Margin, "Margin", unit.Fraction(assumedMargin), "one margin on the whole duty")
	if err := unit.InRange("margin", margin.Value(), 0, 0.5); err != nil {
		return err
	}
	s.Margin = margin
	s.Duty = unit.Watts((s.Design + s.Pipe + s.Pump).W() * (1 + margin.Value()))
	d.hours()
	d.chiller()
	if err := d.store(); err != nil {
		return err
	}
	return d.siting()
}

// hours sets out the rows of the load table.
func (d *design) hours() {
	w, fixed := d.week, d.res.Load.Pipe+d.res.Load.Pump
	rows := make([]Hour, w.n)
	least := math.Inf(1)
	for h := range rows {
		rows[h] = Hour{
			Ferment: unit.Watts(w.ferment[h]), Crash: unit.Watts(w.crash[h]), Gain: unit.Watts(w.gain[h]), Bright: unit.Watts(w.bright[h]),
			Liquor: unit.Watts(w.liquor[h]), Wort: unit.Watts(w.wort[h]), Fixed: fixed, Cellar: unit.Watts(w.cellar(h)) + fixed, Crashing: w.crashing[h],
		}
		least = min(least, rows[h].Cellar.W())
	}
	d.res.Hours = rows
	d.res.Load.Least = unit.Watts(least)
}

// designSeries is the load of each hour with the extra crash beginning in the peak
// hour and the margin on all, in W; wort is added where asked.
func designSeries(in *Input, res *Result, wort bool) []float64 {
	series := make([]float64, len(res.Hours))
	for h := range series {
		series[h] = res.Hours[h].Cellar.W()
		if wort {
			series[h] += res.Hours[h].Wort.W()
		}
	}
	over := 0.0
	for i := range res.Crashes {
		over = max(over, res.Crashes[i].Wish.H())
	}
	for k := range int(math.Ceil(over)) {
		h := res.Load.PeakHour + k
		if h >= len(series) && !in.Repeats {
			break
		}
		series[h%len(series)] += res.Load.ExtraCrash.W()
	}
	for h := range series {
		series[h] *= 1 + res.Load.Margin.Value()
	}
	return series
}

func (d *design) chiller() {
	r, in, s := &d.res.Chiller, d.in, &d.res.Load
	r.Units = max(in.Units, 1)
	height := unit.Length(0)
	if in.Altitude != nil {
		height = *in.Altitude
	}
	for _, p := range in.Chiller.Ratings {
		r.Catalogue = max(r.Catalogue, p.Capacity)
	}
	d.warming(r)
	each, err := in.Chiller.output(d.res.Fluid.Supply, d.res.Ambient, d.res.Fluid.Volume, height)
	switch {
	case err != nil:
		r.Why = err.Error()
	case each.Capacity <= 0:
		r.Why = "the maker's rating table gives no output at these conditions"
	default:
		n := float64(r.Units)
		r.Rated, r.Each = true, each
		r.Capacity, r.Input = unit.Watts(each.Capacity.W()*n), unit.Watts(each.Input.W()*n)
		r.OneLess = r.Capacity - each.Capacity
		r.Run = unit.Fraction(s.steady().W() / r.Capacity.W())
		r.Factor = unit.Fraction(each.Capacity.W() / r.Catalogue.W())
		r.Curve = d.curve(n, each.Factor.Value())
	}
	r.Entering = unit.Celsius(d.supply + d.openRise())
}

// curve runs along the air temperatures of the maker's table at the design's glycol.
func (d *design) curve(units, factor float64) []CurvePoint {
	points := make([]CurvePoint, 0, 4)
	for _, p := range d.in.Chiller.Ratings {
		known := false
		for _, q := range points {
			known = known || q.Ambient == p.Ambient
		}
		if known {
			continue
		}
		if o, err := Rated(d.in.Chiller.Ratings, d.res.Fluid.Supply, p.Ambient); err == nil {
			points = append(points, CurvePoint{p.Ambient, unit.Watts(o.Capacity.W() * units * factor), unit.Watts(o.Input.W() * units)})
		}
	}
	slices.SortFunc(points, func(a, b CurvePoint) int { return cmp.Compare(a.Ambient, b.Ambient) })
	return points
}

// openRise is the rise of the mixed return while CrashAtOnce valves stand open over
// the rest of the load.
func (d *design) openRise() float64 {
	mc := d.res.Circuit.Flow.M3S() * d.meanFluid.Density.KgM3() * d.meanFluid.Heat.JKgK()
	if mc == 0 {
		return 0
	}
	s := &d.res.Load
	rest := max(s.Process.W()-d.week.crash[s.PeakHour], 0)
	return (s.OpenValves.W() + rest) / mc
}

func (d *design) warming(r *ChillerResult) {
	for _, t := range d.res.Tanks {
		if t.ToWarm > 0 && (r.ToWarm == 0 || t.ToWarm < r.ToWarm) {
			r.ToWarm, r.WarmTank = t.ToWarm, t.Tag
		}
	}
}

func (d *design) store() error {
	r, in, s := &d.res.Store, d.in, &d.res.Load
	units := unit.Volume(float64(max(in.Units, 1)))
	r.Installed = in.Chiller.Tank * units
	r.Swing = unit.Kelvins(4)
	if in.Buffer != nil {
		if err := unit.NotNegative("volume of the store", in.Buffer.Volume); err != nil {
			return err
		}
		r.Installed += in.Buffer.Volume
		r.Swing = orZeroQuiet(in.Buffer.Swing, r.Swing)
		r.Energy = StoreEnergy(in.Buffer.Volume, r.Swing, d.meanFluid)
		r.Mass = unit.Kilograms(in.Buffer.Volume.M3() * d.cold.Density.KgM3())
	}
	stage := d.res.Chiller.Each.Capacity
	if !d.res.Chiller.Rated {
		stage = s.Duty
	}
	stage = unit.Watts(stage.W() / float64(max(in.Chiller.Stages, 1)))
	var err error
	if r.Short, err = ShortCycling(stage, s.Least, unit.Minutes(minRunMin), unit.Kelvins(bandK), d.meanFluid); err != nil {
		return err
	}
	if r.Starts, err = StartsStore(stage, unit.PureNumber(startsHour), unit.Kelvins(bandK), d.meanFluid); err != nil {
		return err
	}
	r.Cycling = max(r.Short, r.Starts)
	s.WithStore = s.Duty
	if r.Energy > 0 {
		s.WithStore = unit.Watts(shaved(designSeries(d.in, d.res, false), r.Energy.KWh()*1000))
	}
	d.res.Chiller.Spare = d.res.Chiller.Capacity - s.WithStore
	if err := d.wort(r); err != nil {
		return err
	}
	return d.filling(r)
}

// wort is the store for the second stage of the wort cooler: what the chiller cannot
// give at once, and whether it can be won back in the weeks.
func (d *design) wort(r *StoreResult) error {
	w := d.in.Wort
	if w == nil {
		return nil
	}
	r.WortEnergy = unit.Joules(w.Power.W() * w.For.S())
	capacity := d.res.Chiller.Capacity.W()
	most := 0.0
	for _, at := range w.Starts {
		if i := d.week.place(int(math.Floor(at.H()))); i >= 0 {
			spare := max(capacity-d.res.Hours[i].Cellar.W(), 0)
			most = max(most, (w.Power.W()-spare)*w.For.S())
		}
	}
	out := drawdown(designSeries(d.in, d.res, true), capacity)
	r.WortSettles = !math.IsInf(out, 0)
	if r.WortSettles {
		most = max(most, out*3600)
	}
	r.WortNeed = unit.Joules(most)
	var err error
	r.WortVolume, err = StoreVolume(r.WortNeed, r.Swing, d.meanFluid)
	return err
}

// filling is the content of the circuit, its glycol and its swelling.
func (d *design) filling(r *StoreResult) error {
	content := orZero(&d.a, d.in.Chiller.Content, "Chiller.Content", unit.Litres(10), "glycol in evaporator and inner pipes")
	r.Fill = r.Installed + d.res.Circuit.Held + content*unit.Volume(float64(max(d.in.Units, 1)))
	for i := range d.tanks {
		r.Fill += d.tanks[i].held
	}
	r.Glycol, r.GlycolL = Concentrate(r.Fill, d.cold)
	var err error
	warm, cold := unit.Celsius(max(d.room, d.ambient)), max(d.res.Fluid.Supply, d.res.Fluid.Freeze)
	if r.Expansion, err = ExpansionShare(cold, warm, d.res.Fluid.Mass); err != nil {
		return err
	}
	r.Swell = unit.CubicMetres(r.Expansion.Value() * r.Fill.M3())
	if d.in.Sealed {
		gas := unit.BarGauge(d.res.Circuit.Static.Bar() + 1)
		r.Vessel, err = ExpansionVessel(r.Fill, r.Expansion, gas, gas+unit.BarGauge(1.5))
		return err
	}
	if rise := d.in.Route.Rise; rise != nil && *rise < 0 {
		for _, s := range d.res.Circuit.Sections {
			r.DrainBack += s.Held
		}
		for i := range d.tanks {
			r.DrainBack += d.tanks[i].held
		}
	}
	r.Freeboard = r.Swell + r.DrainBack + 0.05*r.Installed
	return nil
}

func (d *design) siting() error {
	r, in := &d.res.Siting, d.in
	c := &d.res.Chiller
	r.Rejected = HeatRejection(c.Capacity, c.Input)
	var err error
	if r.Air, err = CondenserAir(r.Rejected, unit.Kelvins(airRise)); err != nil {
		return err
	}
	air := r.Air
	if in.Chiller.AirFlow != nil {
		air = unit.VolumeFlow(in.Chiller.AirFlow.M3S() * float64(c.Units))
	}
	r.FreeArea = unit.SquareMetres(air.M3S() / louvreSpeed)
	r.SoundLimit = unit.DecibelsA(assumedNoise)
	if in.Siting.NoiseLimit != nil {
		r.SoundLimit = *in.Siting.NoiseLimit
	}
	if in.Siting.Neighbour != nil && in.Chiller.Sound != nil && in.Siting.Where != "inside" {
		power := unit.DecibelsA(in.Chiller.Sound.DBA() + 10*math.Log10(float64(c.Units)))
		level, err := SoundAt(power, max(*in.Siting.Neighbour, unit.Metres(1)), orZeroQuiet(in.Siting.Surfaces, 1))
		if err != nil {
			return err
		}
		r.Sound = &level
	}
	if f, ok := FindRefrigerant(in.Chiller.Refrigerant); ok {
		r.Refrigerant = &f
		if in.Chiller.Charge != nil {
			e := f.WarmingCharge(*in.Chiller.Charge)
			r.CO2e = &e
		}
	}
	return nil
}
