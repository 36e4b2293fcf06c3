package water

import (
	_ "embed"
	"fmt"
	"math"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/streams.csv
var streamsCSV string

var (
	streams = source.MustTable("streams", streamsCSV)
	wia     = source.Doc{ID: "Water Industry Act 1991", Title: "Water Industry Act 1991", Edition: "c. 56"}
)

const (
	sewerMax  = 43.0 // °C, Public Health Act 1936 s. 27 (110 °F), from memory
	phLow     = 6.0  // many consents, as water companies' pages quote
	phHigh    = 10.0
	coldWater = 12.0  // °C of the main where it is not told, common practice, no source
	codBOD    = 1.65  // COD over BOD5, 1.5 to 1.8 in Brauwelt 610200
	codEtOH   = 2.087 // kg/kg, oxidation of ethanol
	codSugar  = 1.1   // kg/kg, oxidation of extract, as maltose 1.12
	ballingA  = 0.1808
	ballingB  = 0.8192
)

// BeerCOD returns the chemical oxygen demand of a beer.
//
//	COD = ρ · (2.087·A + 1.1·RE)/100, RE = 0.1808·OE + 0.8192·AE, A = (OE-RE)/(2.0665-0.010665·OE)
//
// Source: oxidation of ethanol and extract; Balling's equations; the gravity formula from memory.
func BeerCOD(original, final unit.Plato) (unit.Concentration, error) {
	if err := unit.Within("original extract", original, unit.DegreesPlato(2), unit.DegreesPlato(30)); err != nil {
		return 0, fmt.Errorf("COD of beer: %w", err)
	}
	if err := unit.Within("final extract", final, unit.DegreesPlato(-4), original); err != nil {
		return 0, fmt.Errorf("COD of beer: %w", err)
	}
	oe, ae := original.P(), final.P()
	re := ballingA*oe + ballingB*ae
	a := (oe - re) / (2.0665 - 0.010665*oe)
	rho := (1 + ae/(258.6-227.1*ae/258.2)) * 0.9982
	return unit.GramsPerLitre(rho * 10 * (codEtOH*a + codSugar*re)), nil
}

// Blend returns the cold water that brings a hot discharge to a limit.
//
//	V_cold/V_hot = (Th - T)/(T - Tc)
//
// Source: heat balance with equal densities and heat capacities.
func Blend(hot, limit, cold unit.Temperature) (unit.Ratio, error) {
	if cold >= limit {
		return 0, fmt.Errorf("blend: cold water at %v cannot bring anything to %v", cold, limit)
	}
	return unit.Fraction(max(hot.C()-limit.C(), 0) / (limit.C() - cold.C())), nil
}

// MixPH returns the pH of streams mixed, as strong acids and bases without buffers.
//
//	n = Σ V·(10^(pH-14) - 10^-pH); pH from n/ΣV with Kw = 10⁻¹⁴
//
// Real waste is buffered, so the true value lies nearer to neutral.
//
// Source: charge balance of strong electrolytes at 25 °C.
func MixPH(volumes []unit.Volume, values []unit.Acidity) (unit.Acidity, error) {
	if len(volumes) != len(values) || len(volumes) == 0 {
		return 0, fmt.Errorf("pH of a mixture: %d volumes and %d values: give one value for each volume", len(volumes), len(values))
	}
	n, v := 0.0, 0.0
	for i := range volumes {
		if err := unit.Within("pH", values[i], 0, unit.PH(14)); err != nil {
			return 0, fmt.Errorf("pH of a mixture: %w", err)
		}
		n += volumes[i].M3() * (math.Pow(10, values[i].PH()-14) - math.Pow(10, -values[i].PH()))
		v += volumes[i].M3()
	}
	if v <= 0 {
		return 0, fmt.Errorf("pH of a mixture: the volume is %g: it must be greater than zero", v)
	}
	net := n / v // mol/L of base over acid
	root := (math.Abs(net) + math.Sqrt(net*net+4e-14)) / 2
	if net >= 0 {
		return unit.PH(14 + math.Log10(root)), nil
	}
	return unit.PH(-math.Log10(root)), nil
}

// MixTemperature returns the temperature of volumes mixed.
//
// Source: heat balance with equal densities and heat capacities.
func MixTemperature(volumes []unit.Volume, temps []unit.Temperature) unit.Temperature {
	vt, v := 0.0, 0.0
	for i := range volumes {
		vt += volumes[i].M3() * temps[i].C()
		v += volumes[i].M3()
	}
	if v == 0 {
		return 0
	}
	return unit.Celsius(vt / v)
}

// StreamRow is one stream to the drain on the paper.
type StreamRow struct {
	Name     string
	Kind     string
	Day      unit.Volume
	Each     unit.Volume
	Flow     unit.VolumeFlow // as it runs out; 0 unknown
	Lasts    unit.Duration
	Start    unit.Duration
	Temp     unit.Temperature
	TempFrom string // "told" or "table, common practice"
	PH       unit.Acidity
	PHFrom   string
	COD      unit.Concentration
	CODFrom  string
	Load     unit.Mass   // COD in a day
	Blend    unit.Volume // cold water each time for what the sewer takes
	Held     bool
	Source   string // streams of one source run one after the other
	Side     bool   // goes to the side stream, not the drain
	Gully    string
	Drain    string
	Words    string
}

// Waste is the waste water of the busiest day.
type Waste struct {
	Streams     []StreamRow
	Day         unit.Volume
	PerBeer     unit.Ratio // volume on one of beer; 0 where the beer is unknown
	COD, BOD    unit.Mass  // in a day
	MeanCOD     unit.Concentration
	MeanTemp    unit.Temperature
	MeanPH      unit.Acidity    // unbuffered
	PeakRate    unit.VolumeFlow // highest at once, the two largest dumps together
	PeakNames   []string
	Released    unit.VolumeFlow // rate to the sewer: through a balance tank the day's mean over 24 h plus what is not held
	LargestDump unit.Volume
	BalanceNeed unit.Volume // larger of the largest dump and half a day, common practice
	Balanced    bool
	SewerMax    unit.Temperature // the most that the sewer takes
	ToSewerTemp unit.Temperature // worst that reaches the sewer
	ToSewerLow  unit.Acidity
	ToSewerHigh unit.Acidity
	Consent     []ConsentRow
	Schedule    []Line
	Apply       []Line // data sheet of the application to discharge
}

// outflow is the rate at which a discharge runs: pumped, or out of its opening.
func outflow(d Discharge) (unit.VolumeFlow, error) {
	if d.Flow > 0 {
		return d.Flow, nil
	}
	if d.Outlet > 0 && d.Head > 0 {
		return VesselOutflow(d.Outlet, d.Head)
	}
	return 0, nil
}

func streamRow(d Discharge, side bool, cold, limit unit.Temperature) (StreamRow, error) {
	at, ok := streams.Find("kind", d.Kind)
	if !ok {
		return StreamRow{}, fmt.Errorf("stream %s: kind %q is not in the table of streams: use one of %s", d.Name, d.Kind, strings.Join(texts(streams, "kind"), ", "))
	}
	if err := unit.NotNegative("volume of "+d.Name, d.Volume); err != nil {
		return StreamRow{}, err
	}
	times := max(d.Times, 1)
	r := StreamRow{Name: d.Name, Kind: d.Kind, Each: d.Volume, Day: unit.CubicMetres(d.Volume.M3() * float64(times)), Start: d.Start, Held: d.Held, Source: d.Source, Gully: d.Gully, Drain: d.Drain, Words: streams.Text(at, "words")}
	temp, _ := streams.Number(at, "temp_c")
	ph, _ := streams.Number(at, "ph")
	cod, _ := streams.Number(at, "cod_mg_l")
	r.Temp, r.TempFrom = orTable(d.Temp, unit.Celsius(temp))
	r.PH, r.PHFrom = orTable(d.PH, unit.PH(ph))
	r.COD, r.CODFrom = orTable(d.Strength, unit.MilligramsPerLitre(cod))
	if err := unit.Within("temperature of "+d.Name, r.Temp, unit.Celsius(-10), unit.Celsius(105)); err != nil {
		return r, err
	}
	if err := unit.Within("pH of "+d.Name, r.PH, 0, unit.PH(14)); err != nil {
		return r, err
	}
	r.Load = unit.Kilograms(r.COD.KgM3() * r.Day.M3())
	r.Side = side && streams.Text(at, "side") == "yes"
	if r.Temp > limit {
		share, err := Blend(r.Temp, limit, cold)
		if err != nil {
			return r, err
		}
		r.Blend = unit.CubicMetres(share.Value() * d.Volume.M3())
	}
	q, err := outflow(d)
	if err != nil {
		return r, fmt.Errorf("stream %s: %w", d.Name, err)
	}
	r.Flow = q
	if q > 0 {
		r.Lasts = unit.Seconds(d.Volume.M3() / q.M3S())
	}
	return r, nil
}

func orTable[Q any](told *Q, table Q) (Q, string) {
	if told != nil {
		return *told, "told"
	}
	return table, "table, common practice"
}

func sizeWaste(in Input) (Waste, error) {
	var w Waste
	cold := unit.Celsius(coldWater)
	if in.ColdWater != nil {
		cold = *in.ColdWater
	}
	limit, _, _ := in.consentLimits()
	w.SewerMax = limit
	for _, d := range in.Discharges {
		r, err := streamRow(d, in.Yeast == "side-stream", cold, limit)
		if err != nil {
			return w, err
		}
		w.Streams = append(w.Streams, r)
	}
	w.add(in)
	w.peak()
	w.toSewer(in)
	w.judge(in)
	return w, nil
}

// add sums the day.
func (w *Waste) add(in Input) {
	var vs []unit.Volume
	var ts []unit.Temperature
	var phs []unit.Acidity
	for _, s := range w.Streams {
		if s.Side {
			continue
		}
		w.Day += s.Day
		w.COD += s.Load
		w.LargestDump = max(w.LargestDump, s.Each)
		vs, ts, phs = append(vs, s.Day), append(ts, s.Temp), append(phs, s.PH)
	}
	w.BOD = unit.Kilograms(w.COD.Kg() / codBOD)
	if w.Day > 0 {
		w.MeanCOD = unit.KgPerM3Solute(w.COD.Kg() / w.Day.M3())
		w.MeanTemp = MixTemperature(vs, ts)
		w.MeanPH, _ = MixPH(vs, phs) // volumes and values were checked above
	}
	if in.BeerPerDay > 0 {
		w.PerBeer = unit.Fraction(w.Day.M3() / in.BeerPerDay.M3())
	}
	w.BalanceNeed = max(w.LargestDump, unit.CubicMetres(w.Day.M3()/2))
}

// peak takes the two fastest dumps of different sources together: that is the design
// case of the drain.
func (w *Waste) peak() {
	w.PeakRate, w.PeakNames, _ = worstTwo(*w, func(StreamRow) bool { return true })
}

// toSewer finds the worst temperature and pH that leave the building: held streams
// leave mixed, the others as they are.
func (w *Waste) toSewer(in Input) {
	w.ToSewerLow, w.ToSewerHigh = unit.PH(7), unit.PH(7)
	w.Balanced = in.Balance != nil && *in.Balance > 0
	var vs []unit.Volume
	var ts []unit.Temperature
	var phs []unit.Acidity
	held := unit.Volume(0)
	worst := func(t unit.Temperature, ph unit.Acidity) {
		w.ToSewerTemp = max(w.ToSewerTemp, t)
		w.ToSewerLow, w.ToSewerHigh = min(w.ToSewerLow, ph), max(w.ToSewerHigh, ph)
	}
	for _, s := range w.Streams {
		if s.Side {
			continue
		}
		if s.Held && w.Balanced {
			vs, ts, phs, held = append(vs, s.Day), append(ts, s.Temp), append(phs, s.PH), held+s.Day
			continue
		}
		worst(s.Temp, s.PH)
	}
	if held > 0 {
		ph, _ := MixPH(vs, phs) // volumes and values were checked above
		worst(MixTemperature(vs, ts), ph)
	}
	w.Released = w.PeakRate + unit.M3PerSecond(held.M3()/86400)
}
