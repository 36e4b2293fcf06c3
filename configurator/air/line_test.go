package air

import (
	"testing"

	"tunwright/catalog/unit"
)

func TestLineFigure(t *testing.T) {
	for _, c := range []struct {
		line Line
		want string
	}{
		{Line{Value: unit.CubicMetres(180), Key: "m3"}, "180 m³"},
		{Line{Value: unit.CubicMetres(0.18)}, "180 L"},
		{Line{Value: unit.Pascals(57.3), Key: "pa"}, "57.3 Pa"},
		{Line{Text: "no flow does"}, "no flow does"},
	} {
		if got := c.line.Figure(); got != c.want {
			t.Errorf("%+v prints as %q, want %q", c.line, got, c.want)
		}
	}
}
