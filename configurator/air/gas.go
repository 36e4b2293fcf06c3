package air

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var balling = source.Doc{ID: "Balling", Title: "Fermentation equation: 2.0665 g extract give 1 g alcohol, 0.9565 g carbon dioxide, 0.11 g yeast"}

const (
	molarCO2   = 44.0095  // g/mol
	molarVol20 = 24.0553  // L/mol at 20 °C and 1013.25 hPa
	waterAt20  = 0.9982   // kg/L
	gasPerKg   = 0.552    // m³/kg, carbon dioxide released into a room, oxygenNote
	outdoorPPM = 420.0    // outdoor air, from memory
	gasMolar   = 8.314462 // J/(mol·K), molar gas constant, CODATA 2018
)

// gasDensity is carbon dioxide at 20 °C, kg/m³.
const gasDensity = molarCO2 / molarVol20

// GasVolume returns the volume of carbon dioxide at 20 °C and 1013.25 hPa.
//
//	V = m · 24.055 / 44.01
//
// Source: ideal gas.
func GasVolume(m unit.Mass) unit.Volume { return unit.CubicMetres(m.Kg() / gasDensity) }

// FermentationGas returns the carbon dioxide that a volume of wort gives off.
//
//	RE = 0.1808·OE + 0.8192·AE; A = (OE - RE)/(2.0665 - 0.010665·OE)
//	m = 0.9565·A/(100 + 1.0665·A) per kilogram of wort
//
// OE original, AE apparent final extract in °P, A alcohol in mass per cent; the
// wort's density follows from SG = 1 + OE/(258.6 - 227.1·OE/258.2). Nothing is taken
// off for what stays dissolved.
// Valid for 4…30 °P and -4 °P ≤ AE ≤ OE.
//
// Source: Balling's equations; the gravity formula from memory.
func FermentationGas(v unit.Volume, original, final unit.Plato) (unit.Mass, error) {
	if err := unit.Within("original extract", original, unit.DegreesPlato(4), unit.DegreesPlato(30)); err != nil {
		return 0, fmt.Errorf("fermentation gas: %w", err)
	}
	if err := unit.Within("final extract", final, unit.DegreesPlato(-4), original); err != nil {
		return 0, fmt.Errorf("fermentation gas: %w", err)
	}
	oe, ae := original.P(), final.P()
	re := 0.1808*oe + 0.8192*ae
	a := (oe - re) / (2.0665 - 0.010665*oe)
	perKg := 0.9565 * a / (100 + 1.0665*a)
	sg := 1 + oe/(258.6-227.1*oe/258.2)
	return unit.Kilograms(perKg * sg * waterAt20 * v.L()), nil
}

// PeakGas returns the gas given off at the steepest fall of the apparent extract.
//
//	g = m/(OE - AE) · dP/dt
//
// Source: proportion to the fall of the apparent extract.
func PeakGas(m unit.Mass, original, final unit.Plato, fall unit.ExtractRate) (unit.MassFlow, error) {
	d := original.P() - final.P()
	if d <= 0 {
		return 0, fmt.Errorf("peak gas: the extract falls from %v to %v: it must fall", original, final)
	}
	return unit.KgPerHour(m.Kg() / d * fall.PH()), nil
}

const (
	defaultFall  = 4.0  // °P/d, ale at 18 to 22 °C, common practice, no source
	defaultLeak  = 0.05 // share that reaches the room in spite of piped blow-offs, common practice, no source
	defaultMix   = 3.0  // mixing factor K, from memory
	hoursPerWeek = 168
)

// batchGas fills in what follows from the extracts.
func batchGas(b Batch) (total unit.Mass, peak unit.MassFlow, err error) {
	total, peak = b.CO2, b.PeakGas
	if total == 0 {
		if total, err = FermentationGas(b.Volume, b.Original, b.Final); err != nil {
			return 0, 0, fmt.Errorf("tank %s: %w", b.Tank, err)
		}
	}
	if peak == 0 && b.Original > b.Final {
		fall := b.Peak
		if fall == 0 {
			fall = unit.PlatoPerDay(defaultFall)
		}
		if peak, err = PeakGas(total, b.Original, b.Final, fall); err != nil {
			return 0, 0, fmt.Errorf("tank %s: %w", b.Tank, err)
		}
	}
	kept := unit.Grams(b.Retained.GL() * b.Volume.L())
	total = max(total-kept, 0)
	if total > 0 && peak <= 0 {
		return 0, 0, fmt.Errorf("tank %s: peak gas is not known: give the extracts or the peak", b.Tank)
	}
	return total, peak, nil
}

// spread lays a batch's gas over the hours of the week.
//
// The extract falls along a logistic curve whose steepest fall is the peak: of the
// total m, the share 1/(1+e^(-k(t-tm))) has come by the time t, with k = 4·peak/m.
// It is cut where 1 % is still to come and scaled so that the batch gives exactly
// its mass. A batch that runs past the week's end is not folded back.
func spread(into []float64, total unit.Mass, peak unit.MassFlow, start unit.Duration) {
	if total <= 0 {
		return
	}
	k := 4 * peak.KgH() / total.Kg() // 1/h
	mid := math.Log(99) / k
	cut := 1 / (1 + math.Exp(k*mid))
	share := func(t float64) float64 {
		switch {
		case t <= 0:
			return 0
		case t >= 2*mid:
			return 1
		}
		return (1/(1+math.Exp(-k*(t-mid))) - cut) / (1 - 2*cut)
	}
	s := start.H()
	first, last := max(int(math.Floor(s)), 0), min(int(math.Ceil(s+2*mid)), len(into))
	if first >= last {
		return
	}
	before := share(float64(first) - s)
	for h := first; h < last; h++ {
		after := share(float64(h+1) - s)
		into[h] += total.Kg() * (after - before)
		before = after
	}
}

// BatchRow is one fermentation on the paper.
type BatchRow struct {
	Tank     string
	Start    unit.Duration
	Total    unit.Mass
	Peak     unit.MassFlow
	PerHL    unit.Density // gas of one hectolitre
	InWeek   unit.Mass    // what falls into the week
	PeakFlow unit.VolumeFlow
}

// week lays out all batches hour by hour.
func week(g GasSpace) ([]unit.MassFlow, []BatchRow, error) {
	if len(g.Hourly) > 0 {
		return g.Hourly, nil, nil
	}
	if len(g.Batches) == 0 {
		return nil, nil, nil
	}
	kg := make([]float64, hoursPerWeek)
	rows := make([]BatchRow, 0, len(g.Batches))
	for _, b := range g.Batches {
		total, peak, err := batchGas(b)
		if err != nil {
			return nil, nil, err
		}
		before := sum(kg)
		spread(kg, total, peak, b.Start)
		row := BatchRow{Tank: b.Tank, Start: b.Start, Total: total, Peak: peak, InWeek: unit.Kilograms(sum(kg) - before), PeakFlow: gasFlow(peak)}
		if b.Volume > 0 {
			row.PerHL = unit.KgPerHL(total.Kg() / b.Volume.HL())
		}
		rows = append(rows, row)
	}
	flows := make([]unit.MassFlow, len(kg))
	for i, x := range kg {
		flows[i] = unit.KgPerHour(x)
	}
	return flows, rows, nil
}

// BusiestWeek finds the week, counted from 0, with the hour in which the batches give
// off the most gas together; starts are counted from the first week, to the hour. A
// batch whose gas cannot be worked out is left out here and named by Size.
func BusiestWeek(batches []Batch, weeks int) int {
	type shape struct {
		total unit.Mass
		peak  unit.MassFlow
	}
	courses := map[shape][]float64{}
	hours := make([]float64, weeks*hoursPerWeek)
	for _, b := range batches {
		total, peak, err := batchGas(b)
		if err != nil || total <= 0 {
			continue
		}
		key := shape{total, peak}
		if courses[key] == nil {
			courses[key] = make([]float64, int(math.Log(99)/(2*peak.KgH()/total.Kg()))+2)
			spread(courses[key], total, peak, 0)
		}
		for h, kg := range courses[key] {
			if at := int(b.Start.H()) + h; at >= 0 && at < len(hours) {
				hours[at] += kg
			}
		}
	}
	most := 0
	for h, kg := range hours {
		if kg > hours[most] {
			most = h
		}
	}
	return most / hoursPerWeek
}

func gasFlow(g unit.MassFlow) unit.VolumeFlow { return unit.M3PerSecond(g.KgS() / gasDensity) }

func sum(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s
}
