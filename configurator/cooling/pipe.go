package cooling

import (
	_ "embed"
	"fmt"
	"math"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/pipes.csv
	pipesText string
	//go:embed tables/fittings.csv
	fittingsText string

	pipesTable    = source.MustTable("pipes", pipesText)
	fittingsTable = source.MustTable("fittings", fittingsText)
	pipeSeries    = readPipes(pipesTable)

	elbowLong  = fittingOf("elbow-long")
	teeBranch  = fittingOf("tee-branch")
	teeThrough = fittingOf("tee-through")
	gate       = fittingOf("gate")
)

// Pipe is one size of a series.
type Pipe struct {
	Series, Standard, Material, Size string
	Outside, Bore                    unit.Length
	Rough                            unit.Length
	Expand                           unit.Length // lengthening for each metre and kelvin
}

func readPipes(t source.Table) (all []Pipe) {
	mm := func(r int, name string) unit.Length {
		x, _ := t.Number(r, name)
		return unit.Millimetres(x)
	}
	for r := range t.Len() {
		all = append(all, Pipe{
			Series: t.Text(r, "series"), Standard: t.Text(r, "standard"), Material: t.Text(r, "material"), Size: t.Text(r, "size"),
			Outside: mm(r, "od_mm"), Bore: mm(r, "id_mm"), Rough: mm(r, "rough_mm"), Expand: mm(r, "expand"),
		})
	}
	return all
}

// Pipes returns the sizes of a series, rising.
func Pipes(series string) ([]Pipe, error) {
	first, last := -1, -1
	for i, p := range pipeSeries {
		if p.Series == series {
			if first < 0 {
				first = i
			}
			last = i + 1
		}
	}
	if first < 0 {
		return nil, fmt.Errorf("pipe series %q is not known: it is one of %s", series, strings.Join(seriesNames(), ", "))
	}
	return pipeSeries[first:last], nil
}

func seriesNames() (names []string) {
	for i, p := range pipeSeries {
		if i == 0 || p.Series != pipeSeries[i-1].Series {
			names = append(names, p.Series)
		}
	}
	return names
}

// Regime is how a fluid flows.
type Regime string

const (
	Laminar      Regime = "laminar"
	Transitional Regime = "transitional"
	Turbulent    Regime = "turbulent"
)

// Limits of the regimes; between them the friction factor is blended.
const laminarRe, turbulentRe = 2000, 4000

// FrictionFactor returns the Darcy friction factor.
//
//	Re ≤ 2000: 64/Re;  Re ≥ 4000: 1/√f = -2 log10(e/(3.7 d) + 2.51/(Re √f))
//
// Between the two the end values are blended linearly in Re and the regime is called
// transitional. rough is e/d, 0 to 0.05; Re to 1e8.
//
// Source: Hagen-Poiseuille; Colebrook, J. Inst. Civ. Eng. 11 (1939). The blend is
// common practice.
func FrictionFactor(re, rough unit.Number) (unit.Number, Regime, error) {
	if err := unit.InRange("Reynolds number", re.N(), 1e-6, 1e8); err != nil {
		return 0, "", err
	}
	if err := unit.InRange("relative roughness", rough.N(), 0, 0.05); err != nil {
		return 0, "", err
	}
	f, regime := friction(re.N(), rough.N())
	return unit.PureNumber(f), regime, nil
}

func friction(re, rough float64) (float64, Regime) {
	switch {
	case re <= laminarRe:
		return 64 / re, Laminar
	case re >= turbulentRe:
		return colebrook(re, rough), Turbulent
	}
	low, high := 64.0/laminarRe, colebrook(turbulentRe, rough)
	return low + (high-low)*(re-laminarRe)/(turbulentRe-laminarRe), Transitional
}

// colebrook iterates on 1/√f from Haaland's estimate; it contracts fast, and eight
// rounds are beyond the last digit.
func colebrook(re, rough float64) float64 {
	x := -1.8 * math.Log10(math.Pow(rough/3.7, 1.11)+6.9/re)
	for range 8 {
		next := -2 * math.Log10(rough/3.7+2.51*x/re)
		done := math.Abs(next-x) < 1e-10
		x = next
		if done {
			break
		}
	}
	return 1 / (x * x)
}

// PipeFlow is a flow in a pipe.
type PipeFlow struct {
	Velocity unit.Velocity
	Reynolds unit.Number
	Regime   Regime
	Friction unit.Number
	Gradient unit.PressureGradient
}

// FlowInPipe returns velocity, regime and pressure gradient of a full pipe.
//
//	v = V/(π d²/4);  Re = v d ρ/μ;  Δp/L = f/d · ρ v²/2
//
// d is the bore, f the Darcy factor by FrictionFactor, ρ and μ the fluid's. Flow and
// bore must be above 0.
//
// Source: Darcy-Weisbach; Colebrook, J. Inst. Civ. Eng. 11 (1939).
func FlowInPipe(flow unit.VolumeFlow, p Pipe, f Fluid) (PipeFlow, error) {
	if err := unit.Positive("flow", flow); err != nil {
		return PipeFlow{}, err
	}
	if err := unit.Positive("bore", p.Bore); err != nil {
		return PipeFlow{}, err
	}
	return flowIn(flow.M3S(), p, f), nil
}

func flowIn(q float64, p Pipe, f Fluid) PipeFlow {
	d, rho := p.Bore.M(), f.Density.KgM3()
	v := q / (math.Pi * d * d / 4)
	re := v * d * rho / f.Viscosity.PaS()
	ff, regime := friction(re, p.Rough.M()/d)
	return PipeFlow{
		Velocity: unit.MetresPerSecond(v), Reynolds: unit.PureNumber(re), Regime: regime, Friction: unit.PureNumber(ff),
		Gradient: unit.PascalsPerMetre(ff / d * rho * v * v / 2),
	}
}

// fitting is a fitting by the two-K method.
type fitting struct{ k1, kinf float64 }

func fittingOf(name string) fitting {
	r, _ := fittingsTable.Find("fitting", name)
	k1, _ := fittingsTable.Number(r, "k1")
	kinf, _ := fittingsTable.Number(r, "kinf")
	return fitting{k1, kinf}
}

func (k fitting) loss(re, dMM float64) float64 { return k.k1/re + k.kinf*(1+25.4/dMM) }

// FittingLoss returns the resistance coefficient of a fitting named in
// tables/fittings.csv.
//
//	K = K1/Re + K∞ (1 + 25.4/d[mm]);  Δp = K ρ v²/2
//
// Source: Hooper, Chemical Engineering 88 (1981): constant coefficients fail below Re 5000.
func FittingLoss(name string, re unit.Number, bore unit.Length) (unit.Number, error) {
	if _, ok := fittingsTable.Find("fitting", name); !ok {
		return 0, fmt.Errorf("fitting %q is not in the table", name)
	}
	if err := unit.Positive("Reynolds number", re); err != nil {
		return 0, err
	}
	if err := unit.Positive("bore", bore); err != nil {
		return 0, err
	}
	return unit.PureNumber(fittingOf(name).loss(re.N(), bore.MM())), nil
}

// ValveDrop returns the pressure lost in a valve.
//
//	Δp[bar] = (V[m³/h]/Kv)² ρ/1000
//
// Source: EN 60534-2-1, definition of the flow coefficient.
func ValveDrop(flow unit.VolumeFlow, kv unit.FlowCoefficient, rho unit.Density) (unit.PressureDiff, error) {
	if err := unit.Positive("flow coefficient", kv); err != nil {
		return 0, err
	}
	x := flow.M3H() / kv.Kv()
	return unit.Bars(x * x * rho.KgM3() / 1000), nil
}

// ValveResistance turns a flow coefficient into a resistance coefficient.
//
//	K = 1.6e9 d⁴/Kv², d in m
//
// Source: Crane TP 410M, example 7-2 (DN 150, Kv 500: K = 3.6).
func ValveResistance(kv unit.FlowCoefficient, bore unit.Length) (unit.Number, error) {
	if err := unit.Positive("flow coefficient", kv); err != nil {
		return 0, err
	}
	d := bore.M()
	return unit.PureNumber(1.6e9 * d * d * d * d / (kv.Kv() * kv.Kv())), nil
}
