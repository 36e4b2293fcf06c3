package electrician

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/pricing/paper/drawing"
)

// Diagram is the single-line diagram from the supply to each load, on as many sheets
// as it takes at that height.
func Diagram(r configurator.Report, width, tallest drawing.MM) ([]drawing.Drawing, error) {
	if r.Electrical == nil {
		return nil, fmt.Errorf("no circuits have been worked out")
	}
	f := Facts(r)
	s := drawing.SingleLine{
		Title: "Single-line diagram", Description: "From the supply through fuse, meter and feeder to the brewery's board and its circuits.",
		Width: width, Earthing: f.Input.Supply.Earthing, Continued: "continued",
	}
	node := f.Tree()
	for node.Kind != "board" {
		if symbol, ok := supplySign(node.Kind); ok {
			s.Supply = append(s.Supply, drawing.Part{Symbol: symbol, Words: two(node)})
		}
		if len(node.Below) == 0 {
			return nil, fmt.Errorf("the diagram ends at %s: a board with circuits is missing", node.Title)
		}
		node = node.Below[0]
	}
	s.Board = strings.Join(append([]string{node.Title}, node.Notes...), ", ")
	for i := range node.Below {
		s.Circuits = append(s.Circuits, way(f, i, node.Below[i]))
	}
	return s.Draw(tallest)
}

// supplySign is the sign of a node above the board.
func supplySign(kind string) (drawing.Symbol, bool) {
	switch kind {
	case "supply":
		return drawing.Conductor, true
	case "fuse":
		return drawing.Fuse, true
	case "meter":
		return drawing.Meter, true
	case "feeder":
		return drawing.Breaker, true
	}
	return drawing.Conductor, false
}

// two is what stands beside a sign: its title, and its notes on one line.
func two(n electrical.Node) []string {
	if len(n.Notes) == 0 {
		return []string{n.Title}
	}
	return []string{n.Title, strings.Join(n.Notes, ", ")}
}

// way is one circuit of the board, from its protection down to its load.
func way(f electrical.Facts, i int, n electrical.Node) drawing.Circuit {
	c, l := &f.Result.Circuits[i], &f.Input.Loads[i]
	out := drawing.Circuit{Name: c.Tag, Words: clip(c.Name, 30), Details: details(c)}
	out.Load = loadSign(l, c)
	if c.Problem != "" {
		out.Parts = []drawing.Part{{Symbol: drawing.Breaker, Words: []string{"open"}}}
		return out
	}
	out.Parts = append(out.Parts, drawing.Part{Symbol: drawing.Breaker, Words: []string{fmt.Sprintf("%s%.0f A", c.Device.Curve, c.Device.Rating.A()), c.Lines}})
	below := n
	for len(below.Below) > 0 {
		below = below.Below[0]
		switch below.Kind {
		case "rcd":
			out.Parts = append(out.Parts, drawing.Part{Symbol: drawing.ResidualSwitch, Words: []string{unit.In(c.RCD.Residual, "ma", 0) + " " + c.RCD.Type}})
		case "isolator":
			out.Parts = append(out.Parts, drawing.Part{Symbol: drawing.Disconnector, Words: []string{fmt.Sprintf("%.0f A", c.Isolator.Rating.A()), fmt.Sprintf("%dP", c.Isolator.Poles)}})
		}
	}
	if symbol, ok := starterSign(l); ok {
		out.Parts = append(out.Parts, drawing.Part{Symbol: symbol})
	}
	out.Cable = fmt.Sprintf("%s / %s, %.0f m", c.Cable.Live(), c.Cable.Protective(), c.Cable.Length.M())
	return out
}

func details(c *electrical.Circuit) string {
	s := fmt.Sprintf("%s, %s", unit.Fixed(c.Power, 2), unit.Fixed(c.Ib, 1))
	if c.Group != "" {
		s += ", interlock " + c.Group
	}
	return s
}

func starterSign(l *electrical.Load) (drawing.Symbol, bool) {
	switch {
	case l.Starter == electrical.VariableSpeed:
		return drawing.Drive, true
	case l.Starter == electrical.SoftStart:
		return drawing.SoftStarter, true
	case l.Kind == electrical.Element, l.Kind == electrical.Motor:
		return drawing.Contactor, true
	}
	return drawing.Conductor, false
}

func loadSign(l *electrical.Load, c *electrical.Circuit) drawing.Symbol {
	switch {
	case l.Kind == electrical.Socket:
		return drawing.Socket
	case l.Kind == electrical.Element:
		return drawing.Heater
	case l.Kind == electrical.Motor:
		return drawing.Motor
	}
	return drawing.Load
}

// clip keeps words to a length that stands below a sign.
func clip(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return strings.TrimRight(string(r[:most-1]), " ,") + "…"
}
