// Package floor answers what the equipment asks of the floor it stands on, against
// figures that somebody has given: masses (the maker's, or from geometry), the load
// on each foot, on each joist or beam and in each bay, the five ways to call it a
// uniform load, and whether the pieces fit the room and its gullies.
//
// It never says that a floor is safe. It says what is asked of it, against whose
// figure, and who must confirm. Begin with Input, Size and Rules. Left out: the
// strength of the floor itself, its vibration, fire resistance, seismic anchoring.
package floor

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/trace"
)

// Basis tells how a figure came to us.
type Basis string

const (
	Measured Basis = "measured"
	Told     Basis = "told"
	Assumed  Basis = "assumed"
)

// Authority is who stands behind a figure for the floor.
type Authority string

const (
	Engineer Authority = "engineer" // chartered or licensed structural engineer
	Drawing  Authority = "drawing"  // a record drawing or load plate
	Landlord Authority = "landlord"
	Client   Authority = "client"
	Us       Authority = "us" // our own assumption
)

// Given is a figure with who gave it.
type Given[Q unit.Quantity] struct {
	Value Q
	Basis Basis
	From  Authority
	By    string // name, firm, document and date as told
}

// Settled tells whether an engineer stands behind the figure.
func (g *Given[Q]) Settled() bool {
	return g != nil && g.From == Engineer && g.Basis != Assumed && g.Basis != ""
}

// Support is what the floor rests on.
type Support string

const (
	Unknown   Support = ""
	Ground    Support = "ground"    // a slab on the ground
	Suspended Support = "suspended" // a floor over another room
)

// Input is all that is known of the floor and what is to stand on it.
type Input struct {
	Room  plan.Room
	Items []Item // tags must be unique

	Support Support
	// Level names the floor, such as "second floor"; for print only.
	Level string
	// Members are the joists or beams; empty where none are known.
	Members []Member
	// Bays are fields of the floor; when empty they are taken between the members.
	Bays []Bay
	// Allow is the imposed area load somebody allows, before the added build-up; nil is unknown.
	Allow *Given[unit.AreaLoad]
	// AllowPoint is the concentrated load allowed on the patch; nil is unknown.
	AllowPoint *Given[unit.Force]
	Patch      unit.Length // side of that patch; 0 means 50 mm
	// Use is the existing use by the United Kingdom's annex, such as C51 for a taproom;
	// its load is shown as a yardstick only. Empty where unknown or elsewhere.
	Use string
	// Forklift class that drives here, FL1 to FL6; empty none. SolidTyres of it.
	Forklift   string
	SolidTyres bool
	// People is the load of people and stock carried everywhere beside the equipment;
	// nil means 1.5 kN/m², stated as assumed.
	People *Given[unit.AreaLoad]
	// BuildUp is what is laid on the floor, or taken off it.
	BuildUp []Layer
	// TopLayer is what the feet stand on; empty is unknown.
	TopLayer Surface
	// AllFull says the client cannot exclude all vessels being brim-full at once.
	AllFull bool
	// Slope is the floor's levelling error seen by a vessel; 0 means 0.3°.
	Slope unit.Angle
	// Plates are the spreading plates that can be supplied.
	Plates []Plate
	// Drainage of the room; nil where nothing is drained.
	Drainage *Drainage
}

// Item is a piece of equipment that stands on the floor.
type Item struct {
	plan.Item
	Existing bool // stands there already
	// Empty is the maker's mass; nil asks for the estimate from Vessel.
	Empty *unit.Mass
	// Estimated says that Empty is itself worked out, not weighed.
	Estimated bool
	// Tolerance is how far Empty may be off; 0 means 15 % when estimated, none otherwise.
	Tolerance unit.Ratio
	// Vessel is the geometry, for the estimate and the centre of gravity.
	Vessel *Vessel
	// Liquid held in work and brim-full, heads and cone included; 0 for dry pieces.
	Liquid, Brim unit.Volume
	// Density of the working liquid; 0 means 1050 kg/m³.
	Density unit.Density
	// Coolant is glycol held in jackets and stock such as malt in a hopper: in work and test alike.
	Coolant unit.Mass
	Feet    *Feet // nil: the whole base bears, or Runners do
	Runners int   // skid runners along the length; 0 none
	// OffCentre is how far the centre of gravity lies off the middle, in the piece's own axes.
	OffCentre plan.Point
	// Horizontal force at height HorizontalAt, such as a pipe pull.
	Horizontal   unit.Force
	HorizontalAt unit.Length
	// Speed and Unbalance of turning parts, for the engineer; 0 none.
	Speed     unit.Frequency
	Unbalance unit.Force
	Anchored  bool
	Heaviest  unit.Mass // heaviest part ever moved for service
	// Bore of the outlet a vessel is dumped through: nil is unknown, 0 that it is never
	// dumped onto the floor.
	Bore         *unit.Length
	HotDump      bool // what it dumps is hot
	Alternatives []Alternative
}

// Alternative is another product that could stand in the item's place.
type Alternative struct {
	Code, Name    string
	Count         int // how many of them do the same duty; 0 means 1
	Length, Width unit.Length
	Height        unit.Length
	Empty         unit.Mass
	Liquid, Brim  unit.Volume
	Feet          *Feet
}

// Feet is how a piece stands: equally on a circle, or on a rectangle of four.
type Feet struct {
	Count  int
	Circle unit.Length // bolt circle diameter; 0 for a rectangle
	A, B   unit.Length // spacing along length and width
	Pad    unit.Length // diameter of the contact
	Turn   unit.Angle  // of the first foot from the length axis; 0 on a circle of four means 45°
}

// Member is a joist or beam seen in plan, simply supported at its ends.
type Member struct {
	Name     string
	From, To plan.Point
	// Primary members carry the ends of others and no deck of their own.
	Primary bool
	// Moment and Shear are the imposed values allowed by the engineer; nil takes the
	// area load over the tributary width.
	Moment *Given[unit.Moment]
	Shear  *Given[unit.Force]
	// Allow is an area load for this member alone; nil takes the floor's.
	Allow *Given[unit.AreaLoad]
	// Tributary is the width of floor it carries; 0 takes half the way to its neighbours.
	Tributary unit.Length
}

// Bay is a field of the floor.
type Bay struct {
	Name    string
	Outline plan.Polygon
	// Allow is an area load for this bay alone; nil takes the floor's.
	Allow *Given[unit.AreaLoad]
}

// Layer is part of the build-up.
type Layer struct {
	Name      string
	Thickness unit.Length // mean
	Weight    unit.UnitWeight
	Removed   bool // taken off the existing floor
}

// Surface is what a foot bears on.
type Surface string

const (
	Resin    Surface = "pu-cement resin"
	Screed   Surface = "sand-cement screed"
	Timber   Surface = "timber boards"
	Concrete Surface = "concrete"
)

// Plate is a spreading plate.
type Plate struct {
	Code            string
	A, B, Thickness unit.Length
}

// Case is a state of the equipment.
type Case string

const (
	CaseEmpty     Case = "empty"
	CaseOperating Case = "operating"
	// CaseOverfill has one vessel brim-full and all others at work.
	CaseOverfill Case = "one brim-full, others at work"
	// CaseCommission has one vessel brim-full and all others empty.
	CaseCommission Case = "one brim-full, others empty"
	CaseTest       Case = "all brim-full"
)

// Result is what the floor is asked to carry.
type Result struct {
	Items   []ItemLoad
	Members []MemberLoad
	Bays    []BayLoad
	// AddedLoad is the build-up laid on less what is taken off; Available is what is
	// left of the area load for equipment and people; nil when none was given.
	AddedLoad unit.AreaLoad
	Available *unit.AreaLoad
	People    Given[unit.AreaLoad]
	// Totals over all pieces on the floor.
	Empty, Operating, Test unit.Mass
	RoomArea               unit.Area
	// RoomAverage is the working equipment over the room: the trade's habit, shown
	// only to be set beside the members.
	RoomAverage unit.AreaLoad
	Yardstick   *Yardstick  // what a floor of the existing use is designed for
	Forklift    *unit.Force // dynamic wheel load of the forklift, for the engineer
	Stray       []string    // pieces with a foot that stands on no known member
	Conflicts   []plan.Conflict
	Escape      plan.Escape
	Drains      []DrainRow
	Falls       *FallRow
	Trace       trace.Trace
}

// Facts is what the rules are put to.
type Facts struct {
	Input
	Result
}
