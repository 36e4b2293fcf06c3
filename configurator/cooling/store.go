package cooling

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const (
	minRunMin  = 5.0 // minutes a compressor runs at least, common practice; oil return governs
	startsHour = 6.0 // starts an hour at most, common practice
	bandK      = 2.0 // temperature band of the store while it cycles, common practice
)

// ShortCycling returns the store that keeps a compressor's smallest stage running.
//
//	V = (Q_stage - Q_load) t_min/(ρ c ΔT)
//
// Q_load is the lowest load; above the stage nothing is needed. ΔT must be above 0.
//
// Source: heat balance; 5 min and 2 K are common practice.
func ShortCycling(stage, load unit.Power, run unit.Duration, band unit.TempDiff, f Fluid) (unit.Volume, error) {
	if err := unit.Positive("temperature band", band); err != nil {
		return 0, err
	}
	return unit.CubicMetres(max(stage.W()-load.W(), 0) * run.S() / (f.Density.KgM3() * f.Heat.JKgK() * band.K())), nil
}

// StartsStore returns the store that limits the starts of a compressor in an hour.
//
//	V = 3600 Q_stage/(4 N ρ c ΔT), worst at half load
//
// Source: heat balance of charging and discharging.
func StartsStore(stage unit.Power, starts unit.Number, band unit.TempDiff, f Fluid) (unit.Volume, error) {
	if err := unit.Positive("starts in an hour", starts); err != nil {
		return 0, err
	}
	if err := unit.Positive("temperature band", band); err != nil {
		return 0, err
	}
	return unit.CubicMetres(3600 * stage.W() / (4 * starts.N() * f.Density.KgM3() * f.Heat.JKgK() * band.K())), nil
}

// StoreEnergy returns the cold a store gives while it warms by swing.
//
//	E = V ρ c ΔT
//
// ρ and c are the mixture's at its mean temperature, ΔT the swing. Mixed, not layered.
//
// Source: heat balance.
func StoreEnergy(v unit.Volume, swing unit.TempDiff, f Fluid) unit.Energy {
	return unit.Joules(v.M3() * f.Density.KgM3() * f.Heat.JKgK() * swing.K())
}

// StoreVolume returns the store that holds a cold within swing.
//
//	V = E/(ρ c ΔT)
//
// The inverse of StoreEnergy; the swing must be above 0. Source: heat balance.
func StoreVolume(e unit.Energy, swing unit.TempDiff, f Fluid) (unit.Volume, error) {
	if err := unit.Positive("swing of the store", swing); err != nil {
		return 0, err
	}
	return unit.CubicMetres(e.J() / (f.Density.KgM3() * f.Heat.JKgK() * swing.K())), nil
}

// drawdown is the most that a store gives out, in W h, while a load of hourly means
// runs against a constant capacity. Twice round, so that a store that is not full again
// by the end of the weeks shows; infinite where the mean load passes the capacity.
func drawdown(load []float64, capacity float64) float64 {
	sum := 0.0
	for _, q := range load {
		sum += q
	}
	if sum > capacity*float64(len(load)) {
		return math.Inf(1)
	}
	out, most := 0.0, 0.0
	for range 2 {
		for _, q := range load {
			out = max(out+q-capacity, 0)
			most = max(most, out)
		}
	}
	return most
}

// shaved is the least constant capacity, in W, whose store gives out no more than
// stored W h over the load.
func shaved(load []float64, stored float64) float64 {
	sum, peak := 0.0, 0.0
	for _, q := range load {
		sum += q
		peak = max(peak, q)
	}
	lo, hi := sum/float64(len(load)), peak
	for range 24 {
		mid := (lo + hi) / 2
		if suffices(load, mid, stored) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// suffices tells whether a store of stored W h lasts through the load, twice round,
// beside a constant capacity that is at least the mean load.
func suffices(load []float64, capacity, stored float64) bool {
	out := 0.0
	for range 2 {
		for _, q := range load {
			if out += q - capacity; out < 0 {
				out = 0
			}
			if out > stored {
				return false
			}
		}
	}
	return true
}

// ExpansionShare returns how much a filling swells from cold running to warm standstill.
//
//	e = ρ(cold)/ρ(warm) - 1
//
// x is the glycol by mass; valid where Glycol is, else its error. The swelling of the
// pipes themselves is left out, which is on the safe side.
//
// Source: mass balance; densities by Melinder, IIR 2010.
func ExpansionShare(cold, warm unit.Temperature, x unit.Ratio) (unit.Ratio, error) {
	a, err := Glycol(cold, x)
	if err != nil {
		return 0, fmt.Errorf("cold filling: %w", err)
	}
	b, err := Glycol(warm, x)
	if err != nil {
		return 0, fmt.Errorf("warm filling: %w", err)
	}
	return unit.Fraction(a.Density.KgM3()/b.Density.KgM3() - 1), nil
}

// ExpansionVessel returns the vessel of a closed circuit.
//
//	V = (e V_s + max(0.5 % V_s, 3 L)) (p_e + 1)/(p_e - p_0)
//
// p_0 is the gas pressure, p_e the highest at running, both gauge in bar.
//
// Source: EN 12828 Annex D, from memory.
func ExpansionVessel(fill unit.Volume, e unit.Ratio, gas, highest unit.GaugePressure) (unit.Volume, error) {
	if highest <= gas {
		return 0, fmt.Errorf("highest pressure is %s: it must lie above the gas pressure of %s", highest, gas)
	}
	reserve := max(0.005*fill.M3(), 0.003)
	return unit.CubicMetres((e.Value()*fill.M3() + reserve) * (highest.BarG() + 1) / (highest.BarG() - gas.BarG())), nil
}
