package air

import (
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var ashrae = source.Doc{ID: "ASHRAE Handbook—Fundamentals", Title: "Psychrometrics", Edition: "2017, ch. 1"}

const (
	zeroC     = 273.15   // K
	seaLevel  = 101325.0 // Pa, standard atmosphere
	massRatio = 0.621945 // ASHRAE Fundamentals 2017 ch. 1 eq. 20, molar masses of water and dry air
	rDryAir   = 287.042  // J/(kg·K), ASHRAE Fundamentals 2017 ch. 1 eq. 1
	hVapour   = 2687.0   // kJ/kg, vapour at 100 °C as the linear enthalpy of ASHRAE eq. 28 gives it
	cpDry     = 1.006    // kJ/(kg·K), ASHRAE eq. 28
	cpVapour  = 1.86     // kJ/(kg·K), ASHRAE eq. 28
	hfg0      = 2501.0   // kJ/kg at 0 °C, ASHRAE eq. 28
	cpWater   = 4.186    // kJ/(kg·K)
)

// SaturationPressure returns the vapour pressure over water (0…200 °C) or over
// ice (-100…0 °C).
//
//	ln pws = C1/T + C2 + C3·T + C4·T² + C5·T³ (+ C6·T⁴) + C7·ln T
//
// T in kelvin, pws in pascal. Outside -100…200 °C: *unit.RangeError.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 5 and 6.
func SaturationPressure(t unit.Temperature) (unit.AbsPressure, error) {
	if err := unit.Within("air temperature", t, unit.Celsius(-100), unit.Celsius(200)); err != nil {
		return 0, fmt.Errorf("saturation pressure: %w", err)
	}
	return unit.PascalsAbs(pws(t.C())), nil
}

// pws takes °C inside the range that SaturationPressure checks.
func pws(tC float64) float64 {
	T := tC + zeroC
	if tC < 0.01 { // below the triple point, as ASHRAE has it
		return math.Exp(-5.6745359e3/T + 6.3925247 + T*(-9.677843e-3+T*(6.2215701e-7+T*(2.0747825e-9-9.484024e-13*T))) + 4.1635019*math.Log(T))
	}
	return math.Exp(-5.8002206e3/T + 1.3914993 + T*(-4.8640239e-2+T*(4.1764768e-5-1.4452093e-8*T)) + 6.5459673*math.Log(T))
}

// StandardPressure returns the pressure of the standard atmosphere at an altitude.
//
//	p = 101325 · (1 - 2.25577e-5·z)^5.2559
//
// Valid for -500…5000 m.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 3.
func StandardPressure(z unit.Length) (unit.AbsPressure, error) {
	if err := unit.Within("altitude", z, unit.Metres(-500), unit.Metres(5000)); err != nil {
		return 0, fmt.Errorf("standard atmosphere: %w", err)
	}
	return unit.PascalsAbs(seaLevel * math.Pow(1-2.25577e-5*z.M(), 5.2559)), nil
}

// MoistAir is a state of moist air with what follows from it.
type MoistAir struct {
	Temp     unit.Temperature
	Humidity unit.Ratio
	Moisture unit.HumidityRatio
	Enthalpy unit.SpecificEnergy // of one kilogram of dry air with its vapour
	Volume   unit.SpecificVolume // of one kilogram of dry air with its vapour
	DewPoint unit.Temperature
	Pressure unit.AbsPressure
}

// State works out moist air from temperature, relative humidity and pressure.
//
//	W = 0.621945·pw/(p-pw); h = 1.006·t + W·(2501 + 1.86·t); v = 287.042·T·(1 + 1.607858·W)/p
//
// Valid for -60…95 °C, 0…100 % and a vapour pressure below the air pressure.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 20, 26 and 28.
func State(s AirState, p unit.AbsPressure) (MoistAir, error) {
	if err := unit.Within("air temperature", s.Temp, unit.Celsius(-60), unit.Celsius(95)); err != nil {
		return MoistAir{}, fmt.Errorf("moist air: %w", err)
	}
	if err := unit.Within("relative humidity", s.Humidity, unit.Percent(0), unit.Percent(100)); err != nil {
		return MoistAir{}, fmt.Errorf("moist air: %w", err)
	}
	if err := unit.Within("air pressure", p, unit.KilopascalsAbs(54), unit.KilopascalsAbs(110)); err != nil {
		return MoistAir{}, fmt.Errorf("moist air: %w", err)
	}
	t, pw := s.Temp.C(), s.Humidity.Value()*pws(s.Temp.C())
	if pw >= p.PaA() {
		return MoistAir{}, fmt.Errorf("moist air: at %v and %v the vapour pressure passes the air pressure %v", s.Temp, s.Humidity, p)
	}
	w := massRatio * pw / (p.PaA() - pw)
	return moist(t, w, p.PaA()), nil
}

// moist fills a state from temperature, moisture and pressure in °C, kg/kg, Pa.
func moist(t, w, p float64) MoistAir {
	pw := p * w / (massRatio + w)
	return MoistAir{
		Temp: unit.Celsius(t), Humidity: unit.Fraction(pw / pws(t)), Moisture: unit.KgPerKg(w),
		Enthalpy: unit.KilojoulesPerKg(enthalpy(t, w)), Volume: unit.M3PerKg(specificVolume(t, w, p)),
		DewPoint: unit.Celsius(dewPoint(pw)), Pressure: unit.PascalsAbs(p),
	}
}

func enthalpy(t, w float64) float64 { return cpDry*t + w*(hfg0+cpVapour*t) }

func temperature(h, w float64) float64 { return (h - hfg0*w) / (cpDry + cpVapour*w) }

func specificVolume(t, w, p float64) float64 { return rDryAir * (t + zeroC) * (1 + 1.607858*w) / p }

func saturated(t, p float64) float64 { ps := pws(t); return massRatio * ps / (p - ps) }

// dewPoint finds the temperature whose saturation pressure is pw, by Newton's
// method on ln pws, which is nearly straight over 1/T.
func dewPoint(pw float64) float64 {
	if pw < 1e-3 {
		return -100 // drier than any air a brewery meets
	}
	want, t := math.Log(pw), 10.0
	for range 30 {
		f := math.Log(pws(t)) - want
		slope := (math.Log(pws(t+0.01)) - math.Log(pws(t-0.01))) / 0.02
		step := f / slope
		t = min(max(t-step, -99.9), 199.9)
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return t
}
