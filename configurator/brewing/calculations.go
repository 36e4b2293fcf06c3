package brewing

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

// Calculations lists what can be run by name.
func Calculations() []calc.Calculation {
	return append(wortCalculations(), beerCalculations()...)
}

type platoIn struct {
	Extract unit.Plato `yaml:"extract_plato,required" doc:"mass per cent of extract"`
}

type gravityOut struct {
	Gravity unit.Gravity `yaml:"gravity_sg"`
}

type gravityIn struct {
	Gravity unit.Gravity `yaml:"gravity_sg,required" doc:"relative density 20/20"`
}

type platoOut struct {
	Extract unit.Plato `yaml:"extract_plato"`
}

func wortCalculations() []calc.Calculation {
	return []calc.Calculation{
		calc.New("brewing.plato-to-gravity", "Relative density of wort from its extract", "SG = 1 + P/(258.6 − 227.1·P/258.2)", refGravity, `{"extract_plato": 12}`,
			func(in platoIn) (gravityOut, trace.Trace, error) {
				sg, err := PlatoToGravity(in.Extract)
				return gravityOut{sg}, one("relative density", "SG", "1 + P/(258.6 − 227.1·P/258.2)", refGravity, sg, trace.V("P", in.Extract)), err
			}),
		calc.New("brewing.gravity-to-plato", "Extract of wort from its relative density", "P = −616.868 + 1111.14·SG − 630.272·SG² + 135.997·SG³", docASBC.Recalled("extract table as a cubic"), `{"gravity_sg": 1.048}`,
			func(in gravityIn) (platoOut, trace.Trace, error) {
				p, err := GravityToPlato(in.Gravity)
				return platoOut{p}, one("extract", "P", "−616.868 + 1111.14·SG − 630.272·SG² + 135.997·SG³", docASBC.Recalled("extract table as a cubic"), p, trace.V("SG", in.Gravity)), err
			}),
	}
}

func beerCalculations() []calc.Calculation { return nil }

func one(title, symbol, formula string, src source.Ref, result unit.Quantity, values ...trace.Value) trace.Trace {
	return trace.Trace{{Title: title, Symbol: symbol, Formula: formula, Values: values, Result: result, Source: src}}
}
