package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/calc"
	"tunwright/configurator/trace"
)

type calcCmd struct {
	List     calcListCmd     `cmd:"" help:"List the calculations."`
	Describe calcDescribeCmd `cmd:"" help:"Tell what a calculation takes and gives."`
	Run      calcRunCmd      `cmd:"" help:"Run one calculation on JSON."`
}

type calcListCmd struct {
	Search string `arg:"" optional:"" help:"Only calculations that hold this text."`
}

// Run lists the calculations.
func (c calcListCmd) Run(con *console) error {
	w := tabwriter.NewWriter(con.out, 0, 4, 2, ' ', 0)
	n := 0
	for _, k := range configurator.Calculations() {
		if strings.Contains(strings.ToLower(k.ID+" "+k.Title), strings.ToLower(c.Search)) {
			n++
			fmt.Fprintf(w, "%s\t%s\n", k.ID, k.Title)
		}
	}
	if n == 0 {
		return fmt.Errorf("no calculation speaks of %q: tunwright calc list lists all", c.Search)
	}
	return w.Flush()
}

type calcDescribeCmd struct {
	ID string `arg:"" help:"The calculation, such as electrical.design-current."`
}

// Run tells what goes in and comes out.
func (c calcDescribeCmd) Run(con *console) error {
	k, err := findCalc(c.ID)
	if err != nil {
		return err
	}
	in, err := k.InputSchema()
	if err != nil {
		return err
	}
	out, err := k.OutputSchema()
	if err != nil {
		return err
	}
	fmt.Fprintf(con.out, "%s  %s\n\n  formula  %s\n  source   %s\n\nInput\n%s\n\nOutput\n%s\n\nExample\n  tunwright calc run %s '%s'\n", k.ID, k.Title, k.Formula, k.Source, in, out, k.ID, k.Example)
	return nil
}

type calcRunCmd struct {
	ID    string `arg:"" help:"The calculation."`
	Input string `arg:"" optional:"" help:"JSON input, @FILE, or - for standard input; left out, the example runs."`
}

func (calcRunCmd) Help() string {
	return `Examples:
  tunwright calc run brewing.plato-to-gravity '{"extract_plato": 12}'
  tunwright calc run cooling.glycol-properties @glycol.json
  tunwright calc run electrical.design-current          its built-in example`
}

// answer is what a run prints: the values, then how they came about.
type answer struct {
	Calculation string          `json:"calculation"`
	Title       string          `json:"title"`
	Source      string          `json:"source"`
	Result      json.RawMessage `json:"result"`
	Working     []workingStep   `json:"working"`
}

type workingStep struct {
	What    string        `json:"what"`
	Symbol  string        `json:"symbol"`
	Formula string        `json:"formula"`
	Values  []namedNumber `json:"values,omitempty"`
	Result  *namedNumber  `json:"result,omitempty"`
	Source  string        `json:"source,omitempty"`
	Note    string        `json:"note,omitempty"`
}

type namedNumber struct {
	Symbol string  `json:"symbol"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
}

// Run calculates and prints JSON.
func (c calcRunCmd) Run(con *console) error {
	k, err := findCalc(c.ID)
	if err != nil {
		return err
	}
	input, err := calcInput(c.Input, k)
	if err != nil {
		return err
	}
	out, steps, err := k.Run(input)
	if err != nil {
		return err
	}
	text, err := strict.JSON(out)
	if err != nil {
		return err
	}
	enc := json.NewEncoder(con.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(answer{Calculation: k.ID, Title: k.Title, Source: k.Source.String(), Result: text, Working: working(steps)})
}

func calcInput(arg string, k calc.Calculation) ([]byte, error) {
	switch {
	case arg == "":
		return []byte(k.Example), nil
	case arg == "-":
		return io.ReadAll(io.LimitReader(os.Stdin, strict.MaxBytes))
	case strings.HasPrefix(arg, "@"):
		return readText(arg[1:])
	}
	return []byte(arg), nil
}

func working(steps trace.Trace) []workingStep {
	out := make([]workingStep, 0, len(steps))
	for _, s := range steps {
		w := workingStep{What: s.Title, Symbol: s.Symbol, Formula: s.Formula, Note: s.Note}
		if !s.Source.IsZero() {
			w.Source = s.Source.String()
		}
		for _, v := range s.Values {
			w.Values = append(w.Values, named(v.Symbol, v.Quantity))
		}
		if s.Result != nil {
			r := named(s.Symbol, s.Result)
			w.Result = &r
		}
		out = append(out, w)
	}
	return out
}

func named(symbol string, q unit.Quantity) namedNumber {
	if q == nil {
		return namedNumber{Symbol: symbol}
	}
	u := q.Kind().Shown()
	return namedNumber{Symbol: symbol, Value: u.From(q.SI()), Unit: u.Symbol}
}

func findCalc(id string) (calc.Calculation, error) {
	for _, k := range configurator.Calculations() {
		if strings.EqualFold(k.ID, id) {
			return k, nil
		}
	}
	return calc.Calculation{}, fmt.Errorf("no calculation is called %q: tunwright calc list lists all", id)
}
