package unit_test

import (
	"errors"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

func TestConversions(t *testing.T) {
	tests := []struct {
		source    string
		got, want float64
		tol       float64
	}{
		{"NIST SP 811 (2008) B.8: 1 lb = 0.4535924 kg", unit.Pounds(1).Kg(), 0.4535924, 5e-8},
		{"NIST SP 811 (2008) B.8: 1 psi = 6.894757 kPa", unit.PSI(1).KPa(), 6.894757, 5e-7},
		{"NIST SP 811 (2008) B.8: 1 lbf/ft² = 47.88026 Pa", unit.PoundsPerSqFt(1).NM2(), 47.88026, 5e-6},
		{"NIST SP 811 (2008) B.8: 1 ft³/min = 4.719474 E-04 m³/s", unit.CubicFeetPerMinute(1).M3S(), 4.719474e-4, 5e-11},
		{"NIST SP 811 (2008) B.8: 1 gal(US)/min = 6.309020 E-05 m³/s", unit.USGallonsPerMinute(1).M3S(), 6.309020e-5, 5e-12},
		{"NIST SP 811 (2008) B.8: 1 Btu(IT) = 1055.056 J", unit.BTU(1).J(), 1055.056, 5e-4},
		{"NIST SP 811 (2008) B.8: 1 Btu(IT)/h = 0.2930711 W", unit.BTUPerHour(1).W(), 0.2930711, 5e-8},
		{"NIST SP 811 (2008) B.8: 1 Btu(IT)/(h·ft²·°F) = 5.678263 W/(m²·K)", unit.BTUPerHFt2F(1).WM2K(), 5.678263, 5e-7},
		{"NIST SP 811 (2008) B.8: 1 lb/ft³ = 16.01846 kg/m³", unit.PoundsPerCubicFoot(1).KgM3(), 16.01846, 5e-6},
		{"NIST SP 811 (2008) B.8: 1 lbf·ft = 1.355818 N·m", unit.PoundFeet(1).NM(), 1.355818, 5e-7},
		{"NIST SP 811 (2008) B.8: 1 ft² = 9.290304 E-02 m²", unit.SquareFeet(1).M2(), 9.290304e-2, 0},
		{"NIST SP 811 (2008) B.8: t/°C = (t/°F − 32)/1.8", unit.Fahrenheit(212).C(), 100, 1e-9},
		{"NIST SP 811 (2008) B.8: t/°C = (t/°F − 32)/1.8", unit.Celsius(0).F(), 32, 1e-9},
		{"NIST Handbook 44 app. C: US beer barrel of 31 gal = 117.348 L", unit.USBarrels(1).L(), 117.348, 5e-4},
		{"UK Units of Measurement Regulations 1995: 36 gal of 4.54609 L = 163.659 L", unit.UKBarrels(1).L(), 163.659, 5e-4},
		{"own arithmetic: 1 kWh = 3.6 MJ", unit.KilowattHours(1).MJ(), 3.6, 1e-12},
	}
	for _, tt := range tests {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("%s: got %.10g, want %.10g ± %g", tt.source, tt.got, tt.want, tt.tol)
		}
	}
}

func TestTextOfQuantities(t *testing.T) {
	tests := []struct {
		q    unit.Quantity
		want string
	}{
		{unit.Kilowatts(12), "12 kW"},
		{unit.Amperes(78.23), "78.23 A"},
		{unit.Millimetres(1169), "1169 mm"},
		{unit.Litres(1073.94), "1074 L"},
		{unit.Percent(12.5), "12.5%"},
		{unit.Celsius(-4), "-4 °C"},
		{unit.KilonewtonsPerM2(3.665), "3.665 kN/m²"},
		{unit.Kilograms(0), "0 kg"},
	}
	for _, tt := range tests {
		if got := tt.q.String(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// A field is printed in the unit it was written in.
func TestTextAs(t *testing.T) {
	for _, tt := range []struct {
		q           unit.Quantity
		field, want string
	}{
		{unit.Metres(28), "board_distance_m", "28 m"},
		{unit.Millimetres(3720), "clear_height_mm", "3720 mm"},
		{unit.Litres(32000), "yearly_hl", "320 hL"},
		{unit.Percent(1.25), "fall_ratio", "1.25%"},
		{unit.Metres(28), "length", "28000 mm"},
	} {
		if got := unit.TextAs(tt.q, tt.field); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.field, got, tt.want)
		}
	}
}

func TestEveryUnitThereAndBack(t *testing.T) {
	q := unit.Celsius(21)
	for _, u := range q.Kind().Units {
		if got := u.To(u.From(q.SI())); math.Abs(got-q.SI()) > 1e-9 {
			t.Errorf("%s: %g comes back as %g", u.Symbol, q.SI(), got)
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		x := rapid.Float64Range(-1e6, 1e6).Draw(rt, "x")
		for _, u := range unit.Millimetres(1).Kind().Units {
			if got := u.From(u.To(x)); math.Abs(got-x) > 1e-9*math.Max(1, math.Abs(x)) {
				rt.Errorf("%s: %g comes back as %g", u.Symbol, x, got)
			}
		}
	})
}

func TestRangesRefuseWhatIsNotANumber(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1.01, -0.01} {
		err := unit.InRange("power factor", x, 0, 1)
		var re *unit.RangeError
		if !errors.As(err, &re) || re.Name != "power factor" {
			t.Errorf("%g: got %v, want a *unit.RangeError", x, err)
		}
	}
	err := unit.Within("leaving temperature", unit.Celsius(-9), unit.Celsius(-8), unit.Celsius(5))
	if err == nil || err.Error() != "leaving temperature is -9 °C: it must lie between -8 °C and 5 °C" {
		t.Errorf("got %v", err)
	}
}

// Unit errors must not compile: each line is type-checked on its own beside the
// package, and only the marked ones may pass.
func TestUnitErrorsDoNotCompile(t *testing.T) {
	tests := []struct {
		line     string
		compiles bool
	}{
		{"var _ = Litres(3) + Litres(4)", true},
		{"var _ Power = Kilowatts(3) * 2", true},
		{"var _ = Litres(3) + Kilograms(4)", false},
		{"var _ Power = Kilowatts(3) + KilovoltAmperes(1)", false},
		{"var _ TempDiff = Celsius(20)", false},
		{"var _ AbsPressure = BarGauge(1)", false},
		{"var _ Area = ConductorMM2(6)", false},
		{"var _ Energy = NewtonMetres(6)", false},
	}
	fset := token.NewFileSet()
	own := parsePackage(t, fset)
	std := importer.ForCompiler(fset, "source", nil)
	for _, tt := range tests {
		f, err := parser.ParseFile(fset, "line.go", "package unit\n"+tt.line, 0)
		if err != nil {
			t.Fatal(err)
		}
		conf := types.Config{Importer: std, Error: func(error) {}}
		_, err = conf.Check("unit", fset, append(append([]*ast.File{}, own...), f), nil)
		if (err == nil) != tt.compiles {
			t.Errorf("%s: compiles %v, want %v (%v)", tt.line, err == nil, tt.compiles, err)
		}
	}
}

func parsePackage(t *testing.T, fset *token.FileSet) []*ast.File {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, n := range names {
		if strings.HasSuffix(n, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, n, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}
