package electrical

import (
	"strconv"

	"tunwright/catalog/unit"
)

// Node is one symbol of the single-line diagram with what hangs below it.
type Node struct {
	Kind  string // supply, fuse, meter, feeder, board, device, rcd, isolator, socket, load
	Title string
	Notes []string // printed beside the symbol, one a line
	Below []Node
}

// Tree is the single-line diagram from the supply to each load.
func (f Facts) Tree() Node {
	board := Node{Kind: "board", Title: "Brewery board", Notes: f.boardNotes()}
	for i := range f.Result.Circuits {
		board.Below = append(board.Below, f.circuitNode(i))
	}
	below := board
	if fe := f.Result.Feeder; fe != nil {
		notes := []string{fe.Device.Text()}
		if fe.Problem != "" {
			notes = []string{fe.Problem}
		} else {
			notes = append(notes, fe.Cable.Live()+" / "+fe.Cable.Protective()+" "+fe.Cable.Type, unit.In(fe.Cable.Length, "m", 0)+", drop "+unit.Fixed(fe.DropShare, 2))
		}
		below = Node{Kind: "feeder", Title: "Feeder", Notes: notes, Below: []Node{board}}
	}
	meter := Node{Kind: "meter", Title: "Meter", Below: []Node{below}}
	fuse := Node{Kind: "fuse", Title: "Supply fuse " + quantityOr(f.Input.Supply.Fuse, 0), Notes: []string{basisOf(f.Input.Supply.Fuse != nil, string(f.Input.Supply.FuseBasis))}, Below: []Node{meter}}
	return Node{Kind: "supply", Title: f.systemWords(), Notes: []string{"earthing " + orUnknown(f.Input.Supply.Earthing), "Ze " + quantityOr(f.Input.Supply.Ze, 2), "fault current " + quantityOr(f.Input.Supply.Fault, 0)}, Below: []Node{fuse}}
}

func (f Facts) boardNotes() []string {
	b := f.Result.Binding
	return []string{
		"demand " + unit.Fixed(b.Demand, 1) + " on L" + strconv.Itoa(b.Line),
		"connected " + unit.Fixed(f.Result.Connected, 1),
	}
}

// circuitNode is one way of the board down to its load.
func (f Facts) circuitNode(i int) Node {
	c := &f.Result.Circuits[i]
	load := Node{Kind: "load", Title: c.Tag + " " + c.Name, Notes: []string{unit.Fixed(c.Power, 2) + ", " + unit.Fixed(c.Ib, 1)}}
	if c.Group != "" {
		load.Notes = append(load.Notes, "interlock "+c.Group)
	}
	if c.Problem != "" {
		return Node{Kind: "device", Title: "open", Notes: []string{c.Problem}, Below: []Node{load}}
	}
	if c.Connection != "hard-wired" {
		load = Node{Kind: "socket", Title: c.Connection, Below: []Node{load}}
	}
	isolator := Node{Kind: "isolator", Title: c.Isolator.Text(), Below: []Node{load}}
	if c.RCD.Residual > 0 {
		isolator = Node{Kind: "rcd", Title: c.RCD.Text(), Below: []Node{isolator}}
	}
	return Node{
		Kind: "device", Title: c.Device.Text() + " " + c.Lines,
		Notes: []string{c.Cable.Live() + " / " + c.Cable.Protective(), unit.In(c.Cable.Length, "m", 0)}, Below: []Node{isolator},
	}
}

// Chart is the demand over the brew day, to be drawn as bars by state and a curve of
// half hours.
type Chart struct {
	Bars  []Bar
	Limit *unit.Current // what the least supplied line has; nil where unknown
	Curve []HalfHour
}

// Bar is one state: what each line carries from its start on.
type Bar struct {
	Title   string
	Start   unit.Duration
	Hours   unit.Duration
	Line    []unit.Current
	Binding bool
}

// Chart gives the series of the state demand chart.
func (f Facts) Chart() Chart {
	c := Chart{Curve: f.Result.Energy.HalfHours}
	for s := range f.Result.States {
		d := &f.Result.States[s]
		c.Bars = append(c.Bars, Bar{Title: d.Title, Start: d.Start, Hours: d.Hours, Line: append([]unit.Current{}, d.Line[:f.Result.Supply.Lines]...), Binding: s == f.Result.Binding.State})
	}
	if a := f.Result.Supply.Available; a != nil {
		least := a[0]
		for l := 1; l < f.Result.Supply.Lines; l++ {
			least = min(least, a[l])
		}
		c.Limit = &least
	}
	return c
}

// OperatorBlock is the data a network operator asks for with an application.
func (f Facts) OperatorBlock() []Line {
	r := &f.Result
	top := unit.ApparentPower(0)
	for i := range r.States {
		top = max(top, r.States[i].Apparent)
	}
	motor, starts, drives := unit.Current(0), "none", 0
	for i := range r.Circuits {
		l := &f.Input.Loads[i]
		if l.Kind == Motor && r.Circuits[i].StartCurrent > motor && l.Starter != VariableSpeed {
			motor, starts = r.Circuits[i].StartCurrent, l.Tag+": "+unit.Fixed(r.Circuits[i].StartCurrent, 0)
		}
		if l.Starter == VariableSpeed {
			drives++
		}
	}
	return []Line{
		{"System asked for", f.systemWords(), ""},
		{"Added demand", unit.Fixed(top, 1), "greatest state"},
		{"Greatest line current, added", unit.Fixed(r.Binding.Demand, 1), ""},
		{"Half-hour demand", unit.Fixed(r.Energy.Peak, 1), ""},
		{"Largest starting current", starts, ""},
		{"Variable-speed drives", strconv.Itoa(drives), "harmonics"},
		{"Resistive heating", unit.Fixed(f.heating(), 1), "connected"},
		{"Existing load, worst line", f.existingWords(), basisOf(f.Input.Supply.Existing != nil || f.Input.Supply.PerLine != nil, string(f.Input.Supply.Basis))},
	}
}

func (f Facts) heating() unit.Power {
	p := unit.Power(0)
	for i := range f.Input.Loads {
		if f.Input.Loads[i].Kind == Element {
			p += f.Result.Circuits[i].Power
		}
	}
	return p
}
