package brewing

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type beerIn struct {
	OE unit.Plato `yaml:"original_extract_plato,required"`
	AE unit.Plato `yaml:"apparent_extract_plato,required"`
}

type beerOut struct {
	RealExtract unit.Plato   `yaml:"real_extract_plato"`
	Alcohol     unit.Ratio   `yaml:"alcohol_by_mass_pct"`
	ABV         unit.ABV     `yaml:"strength_abv"`
	RDF         unit.Ratio   `yaml:"real_degree_of_fermentation_pct"`
	Gravity     unit.Gravity `yaml:"final_gravity_sg"`
}

type chargeIn struct {
	Wort unit.Mass           `yaml:"wort_kg,required"`
	OE   unit.Plato          `yaml:"original_extract_plato,required"`
	AE   unit.Plato          `yaml:"apparent_extract_plato,required"`
	Heat unit.SpecificEnergy `yaml:"heat_kj_kg,omitempty" doc:"of extract fermented; left out it is 586.6"`
}

type chargeOut struct {
	Beer    unit.Mass   `yaml:"beer_kg"`
	Ethanol unit.Mass   `yaml:"ethanol_kg"`
	CO2     unit.Mass   `yaml:"co2_kg"`
	Extract unit.Mass   `yaml:"extract_fermented_kg"`
	Yeast   unit.Mass   `yaml:"yeast_dry_kg"`
	Heat    unit.Energy `yaml:"heat_kwh"`
}

type rateIn struct {
	Wort unit.Mass           `yaml:"wort_kg,required"`
	Rate unit.ExtractRate    `yaml:"fall_plato_h,required" doc:"fall of real extract"`
	Heat unit.SpecificEnergy `yaml:"heat_kj_kg,required"`
}

type rateOut struct {
	Power unit.Power    `yaml:"heat_kw"`
	CO2   unit.MassFlow `yaml:"co2_kg_h"`
}

type dutyIn struct {
	OG unit.Gravity `yaml:"original_gravity_sg,required"`
	PG unit.Gravity `yaml:"present_gravity_sg,required"`
}

type abvOut struct {
	ABV unit.ABV `yaml:"strength_abv"`
}

func beerCalculations() []calc.Calculation {
	duty := docHMRC226.At("section 30.3")
	return []calc.Calculation{
		calc.New("brewing.attenuation", "Alcohol and real extract from original and apparent extract", "RE = 0.1808·OE + 0.8192·AE; A = (OE − RE)/(2.0665 − 0.010665·OE); ABV = A·SG/0.7906", refBalling, `{"original_extract_plato": 12, "apparent_extract_plato": 2.3}`,
			func(in beerIn) (beerOut, trace.Trace, error) {
				a, err := Attenuate(in.OE, in.AE)
				if err != nil {
					return beerOut{}, nil, err
				}
				return beerOut(a), oneStep("strength", "ABV", "A·SG/0.7906", refBalling, a.ABV, trace.V("RE", a.RealExtract), trace.V("A", a.Alcohol), trace.V("SG", a.Gravity)), nil
			}),
		calc.New("brewing.fermentation", "Masses and heat of a fermentation", "ethanol = m_beer·A/100; CO2 = 0.9565·ethanol; Q = h·extract", refBalling, `{"wort_kg": 1046.5, "original_extract_plato": 12, "apparent_extract_plato": 2.3}`, chargeSheet),
		calc.New("brewing.fermentation-rate", "Heat flow and CO2 of a fermentation", "q = m·rate/100·h; CO2 = q/h·0.9565/2.0665", refBalling, `{"wort_kg": 1046.5, "fall_plato_h": 0.2, "heat_kj_kg": 586.6}`,
			func(in rateIn) (rateOut, trace.Trace, error) {
				q, err := PeakHeat(in.Wort, in.Rate, in.Heat)
				if err != nil {
					return rateOut{}, nil, err
				}
				c, err := CO2Rate(q, in.Heat)
				return rateOut{q, c}, oneStep("heat flow", "q", "m·rate/100·h", refBalling, q, trace.V("m", in.Wort), trace.V("rate", in.Rate), trace.V("h", in.Heat)), err
			}),
		calc.New("brewing.duty-strength", "Strength declared for UK beer duty, cut to one decimal", "ABV = (OG − PG)·f", duty, `{"original_gravity_sg": 1.046, "present_gravity_sg": 1.009}`,
			func(in dutyIn) (abvOut, trace.Trace, error) {
				x, err := DutyABV(in.OG, in.PG)
				return abvOut{x}, oneStep("declared strength", "ABV", "(OG − PG)·f", duty, x, trace.V("OG", in.OG), trace.V("PG", in.PG)), err
			}),
	}
}

func chargeSheet(in chargeIn) (chargeOut, trace.Trace, error) {
	a, err := Attenuate(in.OE, in.AE)
	if err != nil {
		return chargeOut{}, nil, err
	}
	f, err := Ferment(in.Wort, a, in.Heat)
	return chargeOut(f), oneStep("CO2", "m_CO2", "0.9565 · m_wort/(1 + 0.010665·A) · A/100", refBalling, f.CO2, trace.V("m_wort", in.Wort), trace.V("A", a.Alcohol)), err
}

type gasIn struct {
	Pressure    unit.GaugePressure `yaml:"pressure_bar_g,required"`
	Temperature unit.Temperature   `yaml:"temperature_c,required"`
}

type gasOut struct {
	CO2     unit.Carbonation `yaml:"co2_g_l"`
	Volumes unit.Carbonation `yaml:"co2_volumes"`
}

type spundingIn struct {
	CO2         unit.Carbonation `yaml:"co2_g_l,required"`
	Temperature unit.Temperature `yaml:"temperature_c,required"`
}

type pressureOut struct {
	Pressure unit.GaugePressure `yaml:"pressure_bar_g"`
}

func gasCalculations() []calc.Calculation {
	const henryText = "10·(p + 1.013)·exp(−10.73797 + 2617.25/(T + 273.15))"
	chart := docChart.At("fit to the chart")
	return []calc.Calculation{
		calc.New("brewing.dissolved-co2", "CO2 in beer at equilibrium", "c = "+henryText, refHenry, `{"pressure_bar_g": 1, "temperature_c": 2}`,
			func(in gasIn) (gasOut, trace.Trace, error) {
				c, err := Dissolved(in.Pressure, in.Temperature)
				return gasOut{c, c}, oneStep("dissolved CO2", "c", henryText, refHenry, c, trace.V("p", in.Pressure), trace.V("T", in.Temperature)), err
			}),
		calc.New("brewing.spunding-pressure", "Gauge pressure that holds a carbonation", "p = c/(10·exp(…)) − 1.013", refHenry, `{"co2_g_l": 5, "temperature_c": 18}`,
			func(in spundingIn) (pressureOut, trace.Trace, error) {
				p, err := SpundingPressure(in.CO2, in.Temperature)
				return pressureOut{p}, oneStep("pressure", "p", "c/(10·exp(−10.73797 + 2617.25/(T + 273.15))) − 1.013", refHenry, p, trace.V("c", in.CO2), trace.V("T", in.Temperature)), err
			}),
		calc.New("brewing.chart-co2", "Volumes of CO2 by the fit of the ASBC chart", "v = (P + 14.695)·(0.01821 + 0.090115·e^(−(F−32)/43.11)) − 0.003342", chart, `{"pressure_bar_g": 0.6895, "temperature_c": 2.2}`,
			func(in gasIn) (gasOut, trace.Trace, error) {
				c, err := ChartVolumes(in.Pressure, in.Temperature)
				return gasOut{c, c}, oneStep("volumes", "v", "(P + 14.695)·(0.01821 + 0.090115·e^(−(F−32)/43.11)) − 0.003342", chart, c, trace.V("P", in.Pressure), trace.V("F", in.Temperature)), err
			}),
	}
}

type tanksIn struct {
	Batches   int           `yaml:"batches,required" range:"1..5000" doc:"in a year"`
	Days      unit.Duration `yaml:"stay_days,required" doc:"from filling to ready for the next batch"`
	Peak      unit.Ratio    `yaml:"peak_ratio,required" doc:"busiest week over the mean week"`
	TankDays  unit.Duration `yaml:"in_use_days,required" doc:"days a year tanks are in use"`
	FillLimit unit.Ratio    `yaml:"fill_pct,required" doc:"most of the tank-days that are planned"`
}

type tanksOut struct {
	Tanks int        `yaml:"tanks"`
	Mean  unit.Ratio `yaml:"mean_pct"`
	Peak  unit.Ratio `yaml:"peak_pct"`
}

type tripsIn struct {
	Load    unit.Mass `yaml:"load_kg,required"`
	Rated   unit.Mass `yaml:"rated_kg,required"`
	Trolley unit.Mass `yaml:"trolley_kg,required"`
	Person  unit.Mass `yaml:"person_kg,required"`
}

type tripsOut struct {
	Trips int `yaml:"trips"`
}

func planCalculations() []calc.Calculation {
	trips := source.Derivation("load over what the lift carries beside trolley and person")
	return []calc.Calculation{
		calc.New("brewing.tanks", "Tanks by the average; a dated schedule may ask for more", "⌈N·D·s/(A·u)⌉", refTanks, `{"batches": 41, "stay_days": 16, "peak_ratio": 1.25, "in_use_days": 350, "fill_pct": 90}`,
			func(in tanksIn) (tanksOut, trace.Trace, error) {
				if in.TankDays <= 0 || in.FillLimit <= 0 || in.Days <= 0 {
					return tanksOut{}, nil, fmt.Errorf("stay, days in use and fill must be greater than 0")
				}
				days := float64(in.Batches) * in.Days.D()
				n := roundUp(days * in.Peak.Value() / (in.TankDays.D() * in.FillLimit.Value()))
				mean := days / (in.TankDays.D() * float64(n))
				out := tanksOut{n, unit.Fraction(mean), unit.Fraction(mean * in.Peak.Value())}
				return out, oneStep("tanks", "tanks", "⌈N·D·s/(A·u)⌉", refTanks, unit.PureNumber(float64(n)), trace.V("N", unit.PureNumber(float64(in.Batches))), trace.V("D", in.Days), trace.V("s", in.Peak), trace.V("A", in.TankDays), trace.V("u", in.FillLimit)), nil
			}),
		calc.New("brewing.lift-trips", "Trips of a lift for a load", "⌈m/(rated − trolley − person)⌉", trips, `{"load_kg": 239, "rated_kg": 300, "trolley_kg": 40, "person_kg": 90}`,
			func(in tripsIn) (tripsOut, trace.Trace, error) {
				n := LiftTrips(in.Load, in.Rated, in.Trolley, in.Person)
				if n == 0 && in.Load > 0 {
					return tripsOut{}, nil, fmt.Errorf("a lift rated %s carries nothing beside trolley and person", in.Rated)
				}
				return tripsOut{n}, oneStep("trips", "n", "⌈m/(rated − trolley − person)⌉", trips, unit.PureNumber(float64(n)), trace.V("m", in.Load), trace.V("rated", in.Rated)), nil
			}),
	}
}
