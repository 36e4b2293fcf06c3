// Package access answers whether the equipment gets to its place: each packed piece
// against each opening, turn, lift, stair and hatch of the route, standing, lying,
// tilted or with parts taken off; whether it stands up under the ceiling; what its
// wheels ask of the floors on the way; and the figures for the crane firm, the
// rigger and the carrier.
//
// Lifting is planned by a competent person; the figures here are data for that plan,
// not the plan. Begin with Input, Size and Rules. Left out: the strength of the route,
// the crane's chart, the road.
package access

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Input is what is to be brought in, and how.
type Input struct {
	Country Country // whose law is named; empty counts as GB
	Items   []Item
	// Routes that could be taken; each is judged, the best is named.
	Routes []Route
	// RoomClear is the height under which pieces are stood up; nil is unknown.
	RoomClear *unit.Length
	Margins   Margins
	Carrier   Carrier
	Lifting   Lifting
	Freight   Freight
}

// Item is a piece of equipment by the pieces it comes in.
type Item struct {
	Tag, Product, Name string
	Pieces             []Piece
	Alternatives       []Alternative
	// Outside says it stands in the yard, or on the roof where Roof: it travels and is
	// set down, but takes no way in. A crane lifts it onto a roof.
	Outside, Roof bool
}

// Piece is one transport piece.
type Piece struct {
	Name string // empty where the item is one piece
	// Size as packed, in the attitude it is packed in.
	Length, Width, Height unit.Length
	Packing               unit.Length // height of skid or pallet that comes off before the way in
	Round                 bool        // a cylinder about its axis
	// Lies says it is packed lying: its Length is its height when it stands.
	Lies bool
	// KeepUpright says it may not be laid down or tilted, such as a chiller or panel.
	KeepUpright bool
	Mass        unit.Mass // with packing
	Estimated   bool      // then 15 % are added
	Parts       []Part    // what can be taken off, in the order it comes off most easily
	Points      int       // rated lifting points; 0 is unknown
}

// Part can be taken off a piece.
type Part struct {
	Name          string
	Mass          unit.Mass
	Height, Width unit.Length // how much smaller the piece becomes, standing
	Refit         unit.Duration
}

// Alternative is another product that does the same duty.
type Alternative struct {
	Code, Name string
	Count      int // how many; 0 means 1
	Pieces     []Piece
}

// Route is one way in, step by step from the lorry to the room.
type Route struct {
	Name  string
	Steps []Step
}

// Kind is what a step of a route is.
type Kind string

const (
	Opening  Kind = "opening"   // door or window: Width, Height
	Corridor Kind = "corridor"  // Width, Height, Length
	Corner   Kind = "corner"    // Width in, WidthOut, Height
	Lift     Kind = "lift"      // Width, Depth, Height of the car, DoorWidth, DoorHeight, Rated
	Stairs   Kind = "stairs"    // Width, Landing, Height over the line of the steps
	Hatch    Kind = "hatch"     // hatch or light well: Width × Depth, Rated hoist, Height under the hook
	TakingIn Kind = "taking-in" // door at a height: Width, Height, Level, Rated crane or hoist
	Upending Kind = "upending"  // Height under the ceiling
)

// Step is one place of a route. A nil measure is unknown, and so is then the answer.
type Step struct {
	Name                  string
	Kind                  Kind
	Width, WidthOut       *unit.Length // clear, leaf open
	Height                *unit.Length
	Length                *unit.Length // of a corridor
	Depth                 *unit.Length // of a car or hatch
	Landing               *unit.Length
	DoorWidth, DoorHeight *unit.Length
	Level                 *unit.Length // of a taking-in door over the street
	Rated                 *unit.Mass
	Hoist                 bool    // a taking-in door or hatch has a hoist of its own: no crane is needed
	Floor                 *Limits // of the floor here; nil is unknown
	Ground                bool    // on the ground: no floor to check
}

// Limits are what a floor on the way may carry, and who said so.
type Limits struct {
	Point    *unit.Force
	Engineer bool
	By       string
}

// Margins are the room wanted beside what is moved; the zero value takes the trade's
// 100 mm in width and 50 mm in height, and calls it tight down to 20 and 10 mm
// (common practice, no source).
type Margins struct{ Width, Height, TightWidth, TightHeight, Hatch unit.Length }

// Carrier is what pieces are moved on; the zero value takes skates 100 mm high of
// 120 kg, with two people of 75 kg (common practice, no source).
type Carrier struct {
	Height  unit.Length
	Mass    unit.Mass
	People  int
	Dynamic unit.Ratio // 0 means 1.1, rolled by hand
}

const personMass = 75 // kg, common practice

func (m Margins) usual() Margins {
	set := func(q *unit.Length, mm float64) {
		if *q == 0 {
			*q = unit.Millimetres(mm)
		}
	}
	set(&m.Width, 100)
	set(&m.Height, 50)
	set(&m.TightWidth, 20)
	set(&m.TightHeight, 10)
	set(&m.Hatch, 300)
	return m
}

func (c Carrier) usual() Carrier {
	if c.Height == 0 {
		c.Height = unit.Millimetres(100)
	}
	if c.Mass == 0 {
		c.Mass = unit.Kilograms(120)
	}
	if c.People == 0 {
		c.People = 2
	}
	if c.Dynamic == 0 {
		c.Dynamic = unit.Fraction(1.1)
	}
	return c
}

// Verdict is how a piece does at a step.
type Verdict int

const (
	Unknown Verdict = iota
	Passes
	Tight
	Fails
	Outdoors // it stands outside and takes no way in
)

func (v Verdict) String() string {
	return [...]string{"unknown", "passes", "tight", "does not pass", "stands outside"}[v]
}

// Attitude is how a piece is held.
type Attitude string

const (
	Upright  Attitude = "upright"
	Lying    Attitude = "lying"
	Tilted   Attitude = "tilted"
	Sideways Attitude = "sideways" // round a corner without turning
)

// StepResult is one piece at one step.
type StepResult struct {
	Step     string
	Kind     Kind
	Verdict  Verdict
	Attitude Attitude
	Tilt     unit.Angle // from upright
	Off      []string   // parts taken off
	// Governing is the measure with least to spare: Need with its margin against Have.
	Governing  string
	Need, Have unit.Length
	Clear      unit.Length // what is free without any margin; negative: millimetres missing
	Missing    []string
	Moved      unit.Mass // piece as it passes, at its upper mass
	Load       unit.Mass // with carrier and people
	Wheel      unit.Force
	WheelUse   unit.Ratio // against the floor's concentrated load; 0 where not given
	Rated      unit.Mass  // of lift or hoist; 0 where there is none
	Overload   bool
	NoCrane    bool // only a crane brings pieces here, and none can stand by the building
}

// PieceResult is one piece over one route.
type PieceResult struct {
	Tag, Piece, Product string
	Verdict             Verdict
	Steps               []StepResult
	// Stands is the upending in the room; nil where it comes in upright.
	Stands *StepResult
	Off    []string // all parts that come off somewhere on the way
	Refit  unit.Duration
}

// RouteResult is one route for every piece.
type RouteResult struct {
	Name                         string
	Pieces                       []PieceResult
	Passing, Tight, Fail, Unsure int
	Refit                        unit.Duration
	// Crane says that a crane brings pieces to a step; CraneOpen that nobody knows yet
	// whether one can stand by the building.
	Crane, CraneOpen bool
}

// Result is how everything gets in.
type Result struct {
	Margins Margins
	Carrier Carrier
	Routes  []RouteResult
	Best    int // of Routes; −1 where there is none
	// Ways is the best route of each piece by itself, in the order of the pieces.
	Ways    []int
	Lifts   []LiftRow
	Freight FreightResult
	// Planner says who plans a lift, by the law of the country; printed with every figure
	// of lifting.
	Planner string
	Trace   trace.Trace
}

// Facts is what the rules are put to.
type Facts struct {
	Input
	Result
}
