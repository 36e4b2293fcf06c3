package calc_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type in struct {
	Heat unit.Power    `yaml:"power_kw,required"`
	Time unit.Duration `yaml:"time_h,required" range:"0..24"`
}

type out struct {
	Energy unit.Energy `yaml:"energy_kwh,omitempty"`
}

var errCold = errors.New("nothing is heated")

func energy(i in) (out, trace.Trace, error) {
	if i.Heat == 0 {
		return out{}, nil, errCold
	}
	e := unit.KilowattHours(i.Heat.KW() * i.Time.H())
	return out{e}, trace.Trace{{Title: "Energy", Symbol: "E", Formula: "P · t", Result: e, Source: source.Derivation("definition")}}, nil
}

func sample() calc.Calculation {
	return calc.New("test.energy", "Energy", "P · t", source.Derivation("definition"), `{"power_kw": 9, "time_h": 2}`, energy)
}

func TestRunReadsUnitsAndGivesTheWorking(t *testing.T) {
	got, steps, err := sample().Run([]byte(`{"power_kw": 6, "time_h": 1.5}`))
	if err != nil {
		t.Fatal(err)
	}
	if e := got.(out).Energy; e != unit.KilowattHours(9) {
		t.Errorf("energy is %s", e)
	}
	if len(steps) != 1 || steps[0].Result != unit.KilowattHours(9) {
		t.Errorf("the working is %v", steps)
	}
}

func TestRunSaysWhatIsWrong(t *testing.T) {
	for input, want := range map[string]string{
		`{"power_kw": 6}`:                              "time_h",
		`{"power_kw": 6, "time_h": 25}`:                "24",
		`{"power_kw": 6, "time_h": 1, "power_hp": 2}`:  "power_hp",
		`{"power_kw": "much", "time_h": 1}`:            "power_kw",
		`{"power_kw": 0, "time_h": 1}`:                 "test.energy: nothing is heated",
		`{"power_kw": 6, "time_h": 1, "power_kw": 12}`: "power_kw",
	} {
		if _, _, err := sample().Run([]byte(input)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: the error is %v, which should name %q", input, err, want)
		}
	}
	if _, _, err := sample().Run([]byte(`{"power_kw": 0, "time_h": 1}`)); !errors.Is(err, errCold) {
		t.Errorf("the cause is lost: %v", err)
	}
}

func TestSchemasNameTheFields(t *testing.T) {
	for name, schema := range map[string]func() ([]byte, error){"power_kw": sample().InputSchema, "energy_kwh": sample().OutputSchema} {
		text, err := schema()
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Title      string         `json:"title"`
			Properties map[string]any `json:"properties"`
		}
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		if _, ok := doc.Properties[name]; !ok || !strings.HasPrefix(doc.Title, "test.energy") {
			t.Errorf("%q has the fields %v, without %s", doc.Title, doc.Properties, name)
		}
	}
}

func TestVerify(t *testing.T) {
	if err := calc.Verify([]calc.Calculation{sample()}); err != nil {
		t.Error(err)
	}
	example := func(text string) calc.Calculation {
		return calc.New("test.energy", "Energy", "P · t", source.Derivation("definition"), text, energy)
	}
	for name, list := range map[string][]calc.Calculation{
		"twice":                   {sample(), sample()},
		"no source":               {calc.New("test.energy", "Energy", "P · t", source.Ref{}, `{"power_kw": 9, "time_h": 2}`, energy)},
		"no title":                {calc.New("test.energy", "", "P · t", source.Derivation("definition"), `{"power_kw": 9, "time_h": 2}`, energy)},
		"an example that fails":   {example(`{"power_kw": 0, "time_h": 2}`)},
		"an example of no effect": {example(`{"power_kw": 9, "time_h": 0}`)},
	} {
		if calc.Verify(list) == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func ExampleCalculation_Run() {
	got, steps, _ := sample().Run([]byte(`{"power_kw": 9, "time_h": 2}`))
	fmt.Println(got.(out).Energy, "by", steps[0].Formula)
	// Output: 18 kWh by P · t
}
