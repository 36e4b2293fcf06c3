// Package programme answers when a brewery can open: which permits it needs, how
// long each takes, what waits on what from the survey to the opening, what is
// critical, when each task must begin for the client's date and who does it.
//
// Begin with Input and Size; Rules judge the Facts. calendar.go counts working days,
// network.go is the critical path method for any tasks, permits.go holds the table of
// tasks by country. Dates are values; no clock is read.
//
// Left out: resources, costs, and every duty of law, which the authority decides.
package programme

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Country decides which permits and instruments are listed.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// Input is what the discipline needs to know.
type Input struct {
	Country  Country
	Today    Date   // the day from which the programme runs; needed
	Order    Date   // planned day of the order; 0: as soon as the design is agreed
	Opening  Date   // the client's opening date; 0: not said
	Holidays []Date // public holidays of the place, over the years concerned
	Site     Site
	Supplies []Supply // what is ordered, by class of product
	Times    Times
	Own      []Override       // the durations known better than the table's
	Extra    []Task           // tasks of this project alone
	Done     []string         // IDs of tasks that are over
	Reserve  unit.WorkingDays // spare time wanted before the opening; 0 takes 10
}

// Site holds the facts that decide which tasks there are; nil means unknown.
type Site struct {
	NewUse      *bool // the premises change their use or are new
	BuildWork   *bool // works that need building regulations approval
	Listed      *bool // listed building, conservation area, party wall or landlord's licence
	Network     *bool // the network operator must strengthen the supply
	WaterSupply *bool // a new water connection is needed
	Effluent    *bool // trade effluent goes to the sewer
	Structural  *bool // an engineer must confirm the floor
	Crane       *bool
	RoadClosure *bool
	Taproom     *bool // drinks are sold to the public on the premises
	Trade       *bool // beer is sold to traders
	Noise       *bool // a noise report is asked for
	Scheme      *bool // pressure equipment needs a written scheme
	GrainFeed   *bool // spent grain goes to feed
	LargeWorks  *bool // more than 30 days with more than 20 workers, or 500 person-days
}

// Supply is a class of product ordered together.
type Supply struct {
	Name     string
	Code     string
	Lead     unit.Duration // from order to leaving the works, calendar days
	Shipping unit.Duration // calendar days
	Faster   []Supply      // others that could be chosen
	Needs    string        // ID of a task to be over before the order, such as "P9-OFFER"; empty: none
}

// Times are the days of our own and the builder's work; 0 takes the table's.
type Times struct {
	Works      unit.WorkingDays // floor, drains, power, water by the client's builder
	Install    unit.WorkingDays
	Commission unit.WorkingDays
	FirstBatch unit.Duration // from the first brew to beer in the glass
}

// Override replaces the days of a task.
type Override struct {
	ID   string
	Days int
	Note string
}

// Step is one row of the programme, ready to print and to draw.
type Step struct {
	Bar
	Needs   string // names of the tasks it waits on
	When    string // latest start in words
	Open    bool   // may be needed: the fact that decides is unknown
	Decides string // the unknown fact
	Over    bool   // done
	Known   Date   // first day worked on which what it brings can be acted on
}

// Result is the programme.
type Result struct {
	Steps    []Step           // in order of earliest start within each group
	Critical []int            // indexes of the critical steps in time order
	From, To Date             // span to draw
	Earliest Date             // earliest honest opening
	Opening  Date             // the client's date; 0 not said
	Spare    unit.WorkingDays // working days from the earliest to the client's opening; negative: too late
	OrderBy  Date             // latest order for the client's date; 0 not said
	Late     []int            // steps whose latest start lies before today
	Holidays []Date           // those within the span, for the drawing
	ByWho    []Duty           // who does how much
	Trace    trace.Trace
	work     Calendar // working days of the place
}

// Duty is the share of one party.
type Duty struct {
	Who   string
	Steps []int
	Next  Date // earliest of the latest starts, or of the earliest starts without an opening date
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Cautions stand on every paper that prints the programme.
func Cautions() []string {
	return []string{
		"Preliminary: lead times of authorities and network operators are usual values, many from memory. Ask each of them; check the current text of every instrument named here.",
		"A task marked open may be needed: the fact that decides it is not yet known.",
		"No tank is ordered before the floor is confirmed, none is put under pressure before its examination, and no beer is made before the production approval.",
	}
}

var cpm = source.Doc{ID: "Kelley and Walker 1959", Title: "Critical-path planning and scheduling"}
