package cooling

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const lambdaPipe = 0.036 // W/(m·K), closed-cell foam at 0 °C, ASHRAE table of insulations

// pipeFoam are the usual thicknesses of closed-cell foam in m, common practice.
var pipeFoam = [...]float64{0.013, 0.019, 0.025, 0.032, 0.040, 0.050}

// PipeGain returns the heat that runs into one metre of insulated pipe, in watts.
//
//	q = 2πλ (T_room - T)/[ln((d + 2t)/d) + 2λ/(h (d + 2t))]
//
// λ of the insulation, 0.036 W/(m·K) for closed-cell foam; h 8 W/(m²·K) indoors; d is
// the outside diameter. A fluid warmer than the room gives a loss, below zero.
//
// Source: Incropera, Fundamentals of Heat and Mass Transfer, radial conduction.
func PipeGain(outside, foam unit.Length, lambda unit.Conductivity, room, glycol unit.Temperature, film unit.HeatTransfer) (unit.Power, error) {
	if err := unit.Positive("outside diameter", outside); err != nil {
		return 0, err
	}
	if err := unit.Positive("insulation", foam); err != nil {
		return 0, err
	}
	if err := unit.Positive("conductivity of the insulation", lambda); err != nil {
		return 0, err
	}
	if err := unit.Positive("film coefficient", film); err != nil {
		return 0, err
	}
	return unit.Watts(pipeGain(outside.M(), foam.M(), lambda.WMK(), room.C()-glycol.C(), film.WM2K())), nil
}

func pipeGain(d, t, lambda, dT, h float64) float64 {
	out := d + 2*t
	return 2 * math.Pi * lambda * dT / (math.Log(out/d) + 2*lambda/(h*out))
}

// PipeSurface returns the temperature of the insulation's surface.
//
//	T_s = T_room - q/(h π (d + 2t))
//
// q is PipeGain, h the film coefficient, d the outside diameter of the pipe and t the
// thickness; all above 0, anything else is an error.
//
// Source: Incropera, Fundamentals of Heat and Mass Transfer, radial conduction.
func PipeSurface(outside, foam unit.Length, lambda unit.Conductivity, room, glycol unit.Temperature, film unit.HeatTransfer) (unit.Temperature, error) {
	q, err := PipeGain(outside, foam, lambda, room, glycol, film)
	if err != nil {
		return 0, err
	}
	return unit.Celsius(room.C() - q.W()/(film.WM2K()*math.Pi*(outside.M()+2*foam.M()))), nil
}

// DewPoint returns the temperature at which air begins to give off water.
//
//	γ = ln(φ) + 17.62 T/(243.12 + T);  T_d = 243.12 γ/(17.62 - γ)
//
// φ is the relative humidity, above 0 to 1; valid for -45 to 60 °C.
//
// Source: WMO Guide to Instruments and Methods of Observation, annex 4.B, from memory.
func DewPoint(air unit.Temperature, humidity unit.Ratio) (unit.Temperature, error) {
	if err := unit.Within("air temperature", air, unit.Celsius(-45), unit.Celsius(60)); err != nil {
		return 0, fmt.Errorf("dew point: %w", err)
	}
	if err := unit.InRange("relative humidity", humidity.Value(), 0.01, 1); err != nil {
		return 0, fmt.Errorf("dew point: %w", err)
	}
	g := math.Log(humidity.Value()) + 17.62*air.C()/(243.12+air.C())
	return unit.Celsius(243.12 * g / (17.62 - g)), nil
}

// DryInsulation returns the least usual thickness of foam whose surface stays half a
// kelvin above the dew point: PipeSurface at λ = 0.036 W/(m·K) ≥ T_dew + 0.5 K. The
// thicknesses are 13 to 50 mm; ok is false where 50 mm is not enough.
//
// Source: Incropera, radial conduction; the thicknesses and the half kelvin are common
// practice.
func DryInsulation(outside unit.Length, room, glycol, dew unit.Temperature, film unit.HeatTransfer) (unit.Length, bool) {
	for _, t := range pipeFoam {
		q := pipeGain(outside.M(), t, lambdaPipe, room.C()-glycol.C(), film.WM2K())
		if room.C()-q/(film.WM2K()*math.Pi*(outside.M()+2*t)) >= dew.C()+0.5 {
			return unit.Metres(t), true
		}
	}
	return unit.Metres(pipeFoam[len(pipeFoam)-1]), false
}
