package cooling

import (
	_ "embed"
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/profiles.csv
	profilesText string

	profilesTable = source.MustTable("profiles", profilesText)
	aleCourse     = courseOf("ale")
	lagerCourse   = courseOf("lager")
)

const (
	fermentHeat = 650e3  // J for each kg of real extract: molar heats of glucose, maltose and maltotriose over a wort's sugars; 280 Btu/lb in the trade
	cpBeer      = 4050.0 // J/(kg·K), on the safe side of Choi and Okos
	cpWater     = 4190.0 // J/(kg·K)
	cpSteel     = 500.0  // J/(kg·K), from memory
	rhoBeer     = 1010.0 // kg/m³, common practice
	rhoWater    = 1000.0 // kg/m³
	realShare   = 0.8192 // real over apparent fall of extract, Balling, from memory
	bridge      = 1.20   // legs, manway and outlet without foam, common practice
	filmIndoor  = 8.0    // W/(m²·K), convection and radiation indoors, from memory
	filmOutdoor = 25.0   // W/(m²·K), outdoors, from memory
)

// course is a piecewise straight share of the peak over hours.
type course struct {
	hour, share []float64
	whole       float64 // full-rate hours
}

func courseOf(kind string) (c course) {
	for r := range profilesTable.Len() {
		if profilesTable.Text(r, "kind") != kind {
			continue
		}
		h, _ := profilesTable.Number(r, "hour")
		s, _ := profilesTable.Number(r, "share")
		c.hour, c.share = append(c.hour, h), append(c.share, s)
	}
	c.whole = c.until(c.hour[len(c.hour)-1])
	return c
}

// until gives the full-rate hours done after h hours: the exact integral.
func (c course) until(h float64) float64 {
	sum := 0.0
	for i := 1; i < len(c.hour); i++ {
		a, b := c.hour[i-1], c.hour[i]
		if h <= a {
			break
		}
		end := min(h, b)
		at := c.share[i-1] + (c.share[i]-c.share[i-1])*(end-a)/(b-a)
		sum += (end - a) * (c.share[i-1] + at) / 2
	}
	return sum
}

func kindCourse(lager bool) course {
	if lager {
		return lagerCourse
	}
	return aleCourse
}

// FermentedExtract returns the real extract that a batch ferments.
//
//	E = V ρ (OE/100) RDF,  RDF = 0.8192 (OE - AE)/OE
//
// original and final are extracts, final apparent; ρ of the wort from its original
// extract, ρ ≈ 998.2 (1 + OE/(258.6 - 0.8796 OE)). Valid for 2 ≤ OE ≤ 30 and AE < OE.
//
// Source: Balling's attenuation, from memory.
func FermentedExtract(v unit.Volume, original, final unit.Plato) (unit.Mass, error) {
	if err := unit.Within("original extract", original, unit.DegreesPlato(2), unit.DegreesPlato(30)); err != nil {
		return 0, err
	}
	if final >= original {
		return 0, fmt.Errorf("final extract is %s: it must lie below the original extract of %s", final, original)
	}
	return unit.Kilograms(v.M3() * wortDensity(original.P()) / 100 * realShare * (original.P() - final.P())), nil
}

// wortDensity is kg/m³ at 20 °C.
func wortDensity(p float64) float64 { return 998.2 * (1 + p/(258.6-0.8796*p)) }

// FermentationHeat returns the heat of fermenting real extract.
//
//	Q = E · h_f, h_f = 650 kJ/kg
//
// Source: molar heats of glucose, maltose and maltotriose (91.2, 226.3, 361.3 kJ/mol,
// COMSOL Application Library, Fermentation in Beer Brewing) over the sugars of a wort;
// 280 Btu/lb in the trade. 587 kJ/kg is a low estimate.
func FermentationHeat(extract unit.Mass) unit.Energy {
	return unit.Joules(extract.Kg() * fermentHeat)
}

// PeakFermentation returns the highest heat of a batch from its total, by the course
// of its kind: the total lasts 48 h at full rate for an ale, 126 h for a lager.
//
//	q = Q / (3600 · full-rate hours)
//
// Source: common practice; tables/profiles.csv tells what it was straightened from.
func PeakFermentation(total unit.Energy, lager bool) unit.Power {
	return unit.Watts(total.J() / 3600 / kindCourse(lager).whole)
}

// Insulated returns the heat transfer coefficient of an insulated wall.
//
//	U = 1/(t/λ + 1/h)
//
// t is the thickness of the insulation, 0 and more, λ its conductivity and h the
// outside film coefficient, both above 0; anything else is an error. A flat wall: a
// tank is wide against its insulation. The film inside and the steel are left out,
// which is on the safe side.
//
// Source: resistances in series, Incropera, Fundamentals of Heat and Mass Transfer,
// from memory.
func Insulated(thickness unit.Length, lambda unit.Conductivity, outside unit.HeatTransfer) (unit.HeatTransfer, error) {
	if err := unit.NotNegative("insulation", thickness); err != nil {
		return 0, err
	}
	if err := unit.Positive("conductivity of the insulation", lambda); err != nil {
		return 0, err
	}
	if err := unit.Positive("film coefficient outside", outside); err != nil {
		return 0, err
	}
	return unit.WattsPerM2K(1 / (thickness.M()/lambda.WMK() + 1/outside.WM2K())), nil
}

// SkinGain returns the heat that runs into a tank through its insulated skin.
//
//	Q = b · U · A · (T_room - T), b = 1.20 for legs, manway and outlet
//
// U is the wall's coefficient, A the whole skin. A room colder than the beer counts as
// nothing: no credit is taken.
//
// Source: definition of U; the share of bridges is common practice, no source.
func SkinGain(u unit.HeatTransfer, a unit.Area, room, beer unit.Temperature) unit.Power {
	return unit.Watts(bridge * u.WM2K() * a.M2() * max(room.C()-beer.C(), 0))
}

// TankCapacity returns the heat capacity of beer and the steel around it.
//
//	C = V ρ cp_beer + m_steel cp_steel
//
// V is the beer, ρ 1010 kg/m³ and cp 4.05 kJ/(kg·K); steel 0.50 kJ/(kg·K). Valid for
// beer and wort between 0 and 30 °C.
//
// Source: sum of the two; cp of beer on the safe side of Choi and Okos, its density
// common practice, cp of steel from memory.
func TankCapacity(v unit.Volume, steel unit.Mass) unit.HeatCapacity {
	return unit.JoulesPerK(v.M3()*rhoBeer*cpBeer + steel.Kg()*cpSteel)
}

// CrashDuty returns the mean duty of cooling a body down, without gains.
//
//	Q = C (T1 - T2)/t
//
// t is above 0 and T2 below T1; anything else is an error. The jacket's first draw is
// about twice this mean: see EffectiveUA. Source: heat balance.
func CrashDuty(c unit.HeatCapacity, from, to unit.Temperature, over unit.Duration) (unit.Power, error) {
	if err := unit.Positive("time of the crash", over); err != nil {
		return 0, err
	}
	if to >= from {
		return 0, fmt.Errorf("crash to %s: it must lie below the %s the beer has", to, from)
	}
	return unit.Watts(c.JK() * (from.C() - to.C()) / over.S()), nil
}

// LiquorDuty returns the duty of cooling a refill of cold liquor.
//
//	Q = V ρ cp (T_mains - T)/t
//
// ρ is 1000 kg/m³ and cp 4.19 kJ/(kg·K), within 1.1 % from 10 to 40 °C. Mains colder than
// the liquor count as nothing; t must be above 0. Source: heat balance; IAPWS R7-97.
func LiquorDuty(v unit.Volume, mains, to unit.Temperature, over unit.Duration) (unit.Power, error) {
	if err := unit.Positive("recovery time", over); err != nil {
		return 0, err
	}
	return unit.Watts(v.M3() * rhoWater * cpWater * max(mains.C()-to.C(), 0) / over.S()), nil
}
