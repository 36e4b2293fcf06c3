package cooling

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/refrigerants.csv
	refrigerantsText string

	refrigerantsTable = source.MustTable("refrigerants", refrigerantsText)
	refrigerants      = readRefrigerants(refrigerantsTable)
)

const (
	airDensity  = 1.15  // kg/m³ at 35 °C
	airHeat     = 1.006 // kJ/(kg·K)
	airRise     = 10.0  // K through the condenser, common practice
	louvreSpeed = 2.5   // m/s through free area, common practice
)

// HeatRejection returns what the condenser gives to the air.
//
//	Q_rej = Q_0 + P_el
//
// Valid for any air-cooled unit whose fans are within its electrical input.
//
// Source: heat balance.
func HeatRejection(cooling, input unit.Power) unit.Power { return cooling + input }

// CondenserAir returns the air that carries a heat away.
//
//	V = Q/(1.15 · 1.006 · ΔT)
//
// V in m³/s with Q in kW; air of 1.15 kg/m³ and 1.006 kJ/(kg·K), as near 35 °C at sea
// level. ΔT must be above 0.
//
// Source: heat balance; density by the ideal gas at 35 °C, heat of air from memory.
func CondenserAir(q unit.Power, rise unit.TempDiff) (unit.VolumeFlow, error) {
	if err := unit.Positive("rise of the air", rise); err != nil {
		return 0, err
	}
	return unit.M3PerSecond(q.KW() / (airDensity * airHeat * rise.K())), nil
}

// SoundAt returns the sound pressure level at a distance from its sound power level.
//
//	Lp = Lw - 20 log10 r - 11 + 10 log10 Q,  Q = 1, 2, 4, 8 for 0…3 reflecting surfaces
//
// A point source in the open, without screening or absorption by air; r from 1 m.
//
// Source: geometric spreading as in ISO 9613-2.
func SoundAt(power unit.SoundLevel, r unit.Length, surfaces int) (unit.SoundLevel, error) {
	if err := unit.Within("distance", r, unit.Metres(1), unit.Metres(2000)); err != nil {
		return 0, fmt.Errorf("sound at a distance: %w", err)
	}
	if surfaces < 0 || surfaces > 3 {
		return 0, fmt.Errorf("reflecting surfaces are %d: they are 0 to 3", surfaces)
	}
	return unit.DecibelsA(power.DBA() - 20*math.Log10(r.M()) - 11 + 10*math.Log10(float64(int(1)<<surfaces))), nil
}

// SoundSum adds levels of sources that run together.
//
//	L = 10 log10 Σ 10^(L_i/10)
//
// Valid for sources that do not beat with one another; none gives minus infinity.
//
// Source: sum of the sound energies.
func SoundSum(levels ...unit.SoundLevel) unit.SoundLevel {
	sum := 0.0
	for _, l := range levels {
		sum += math.Pow(10, l.DBA()/10)
	}
	return unit.DecibelsA(10 * math.Log10(sum))
}

// Refrigerant is what the table says of a refrigerant; a limit that is not given is nil.
type Refrigerant struct {
	Name, Class string
	GWP         unit.Number
	LFL         *unit.Concentration // lower flammability limit
	Practical   *unit.Concentration // practical limit in an occupied space
}

func readRefrigerants(t source.Table) (all []Refrigerant) {
	limit := func(r int, name string) *unit.Concentration {
		x, ok := t.Number(r, name)
		if !ok {
			return nil
		}
		c := unit.KgPerM3Solute(x)
		return &c
	}
	for r := range t.Len() {
		gwp, _ := t.Number(r, "gwp")
		all = append(all, Refrigerant{t.Text(r, "name"), t.Text(r, "class"), unit.PureNumber(gwp), limit(r, "lfl_kg_m3"), limit(r, "practical_kg_m3")})
	}
	return all
}

// FindRefrigerant looks a refrigerant up by its ISO 817 designation.
func FindRefrigerant(name string) (Refrigerant, bool) {
	for _, r := range refrigerants {
		if r.Name == name {
			return r, true
		}
	}
	return Refrigerant{}, false
}

// Flammable tells whether the class is 2L, 2 or 3.
func (r Refrigerant) Flammable() bool { return r.Class != "A1" && r.Class != "B1" }

// WarmingCharge returns the charge as carbon dioxide.
//
//	m_CO2e = m · GWP
//
// Source: Regulation (EU) 2024/573, definition of the equivalent; GWP by
// tables/refrigerants.csv.
func (r Refrigerant) WarmingCharge(charge unit.Mass) unit.Mass {
	return unit.Kilograms(charge.Kg() * r.GWP.N())
}
