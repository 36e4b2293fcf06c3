// Package electrical answers whether a building's supply carries a brewery, and
// writes the schedule an electrician prices and designs from: what runs in each
// state of the brew day and what each line then carries, which line each
// single-phase load goes to, and for each circuit the device, the cable, the
// voltage drop, the earth fault loop and the connection.
//
// Begin with Input, Size and Rules. Two rule sets are known: IEC 60364 with the
// figures of BS 7671, and the US NEC.
//
// Left out: the design itself, which is a competent person's; hazardous areas,
// lightning protection, fire alarm and emergency lighting; selectivity; harmonics
// beyond a flag. Nothing is sized beyond the published tables.
package electrical

import "tunwright/catalog/unit"

// RuleSet is the body of rules the installation follows.
type RuleSet string

const (
	IEC RuleSet = "IEC" // IEC 60364 with the figures of BS 7671
	NEC RuleSet = "NEC" // NFPA 70
)

// Kind is what a load is; it decides what is taken where the Input is silent.
type Kind string

const (
	Element     Kind = "element" // resistive heating
	Motor       Kind = "motor"   // motors, compressors, fans
	Electronics Kind = "electronics"
	Lighting    Kind = "lighting"
	Socket      Kind = "socket"
)

// Starter is how a motor is started.
type Starter string

const (
	NoStarter     Starter = "none"
	Direct        Starter = "direct" // direct on line
	StarDelta     Starter = "star-delta"
	SoftStart     Starter = "soft-start"
	VariableSpeed Starter = "variable-speed"
)

// Control is how the power of a load is held to its duty.
type Control string

const (
	OnOff      Control = "on-off"      // contactor or thermostat: all or nothing
	Staged     Control = "staged"      // contactors in stages
	SolidState Control = "solid-state" // any share at any time
)

// Zone is the kind of place a terminal is in; it decides the ingress protection.
type Zone string

const (
	Wet     Zone = "wet" // hosed down
	Cellar  Zone = "cellar"
	Dry     Zone = "dry"
	Malt    Zone = "malt" // dust
	Outdoor Zone = "outdoor"
)

// Method is how a cable is laid, by the letters of IEC 60364-5-52.
type Method string

const (
	MethodA1      Method = "A1"      // single-core in conduit in an insulated wall
	MethodA2      Method = "A2"      // multicore in conduit in an insulated wall
	MethodB1      Method = "B1"      // single-core in conduit or trunking
	MethodB2      Method = "B2"      // multicore in conduit or trunking
	MethodC       Method = "C"       // multicore clipped direct
	MethodE       Method = "E"       // multicore on perforated tray or in free air
	MethodConduit Method = "conduit" // what the NEC tables are for, whatever is said; B2 by IEC
	MethodD1      Method = "D1"      // armoured multicore in a duct in the ground
)

// CableType is the insulation and build of a cable.
type CableType string

const (
	Armoured      CableType = "armoured"      // XLPE steel-wire armoured, used at 70 °C
	Thermoplastic CableType = "thermoplastic" // PVC, 70 °C
	Thermosetting CableType = "thermosetting" // XLPE, 90 °C: both ends must be rated for it
)

// Curve is the instantaneous trip of a breaker.
type Curve string

const (
	CurveB Curve = "B"
	CurveC Curve = "C"
	CurveD Curve = "D"
)

// Basis tells how a figure of the supply is known.
type Basis string

const (
	Measured Basis = "measured"
	Told     Basis = "told"
	Assumed  Basis = "assumed"
	// ToBeAgreed is a supply asked of the operator, whose fuse will be as agreed.
	ToBeAgreed Basis = "to be agreed"
)

// Input is all that the supply question turns on. Loads and Rules must be given;
// everything else may be left zero or nil.
type Input struct {
	Rules  RuleSet
	Loads  []Load
	Supply Supply

	// Day is the brew day in order; nil takes DefaultDay(Brews).
	Day []DayState
	// DayStart is the time of day at which the first state begins; nil is 06:00.
	DayStart *unit.Duration
	// Brews on one brew day; 0 is one.
	Brews int
	// BrewVolume is the cold wort of one brew; nil leaves out energy per volume.
	BrewVolume *unit.Volume
	// Bands are tariff bands of the day; energy is told by band so that a caller
	// who knows rates can cost it. Nil is one band.
	Bands []Band

	// Install says how cables are laid where a load does not say so itself.
	Install Installation
	// Interlocks say by what means the groups of Load.Group are held apart. A group
	// without an entry is taken as hard-wired in the control panel we supply.
	Interlocks []Interlock
	// Limit is the setting of a certified load-limiting control that sheds heating
	// elements so that no line of the brewery carries more; nil is none.
	Limit *unit.Current
	// Converter is the efficiency of a phase converter that feeds three-phase loads
	// from one phase; nil is none.
	Converter *unit.Ratio
	// Parts are conductive parts that enter the building and may need bonding; nil
	// prints the usual ones as "to be tested".
	Parts []Part

	// Alternatives are other ways to equip the brewery, tried as remedies.
	Alternatives []Alternative
}

// Load is one electrical load and the way its circuit runs.
type Load struct {
	Tag     string // our mark, unique
	Name    string
	Item    string // tag of the equipment it belongs to
	Product string // product code
	Kind    Kind
	// Power of the rating plate at the rated voltage.
	Power unit.Power
	// Shaft tells that Power is a motor's shaft power, so that the input is larger.
	Shaft bool
	// Efficiency is shaft over input power; nil takes the IE3 table where Shaft is set.
	Efficiency *unit.Ratio
	Phases     int // 1 or 3
	// Voltage the power was rated at; nil is the nominal voltage of the site.
	Voltage *unit.Voltage
	// PowerFactor at full load; nil is taken by kind.
	PowerFactor *unit.Ratio
	Starter     Starter
	// StartMultiple is starting over full-load current; nil is taken by starter.
	StartMultiple *unit.Ratio
	Control       Control
	Stages        int // of a staged control
	// Cap is the greatest share of its power the control lets run; nil is all.
	Cap *unit.Ratio
	// Group names loads that never run together.
	Group string
	// Runs are the states it runs in. Nil: every state.
	Runs []Run
	// Heat is what an element must put in during one brew, at which its thermostat
	// opens; nil leaves out the check of heating time.
	Heat *unit.Energy

	// Length is the one-way cable route from the brewery's board with drops; nil is
	// assumed from Install.
	Length  *unit.Length
	Method  Method            // empty: Install.Method
	Ambient *unit.Temperature // air, or soil by method D1; nil: Install.Ambient, soil of 20 °C
	Grouped int               // cables side by side with this one, itself included; 0: Install.Grouped
	Zone    Zone              // empty: wet
	// X, Y and Height place the connection point; nil is unknown.
	X, Y, Height *unit.Length
	IP           string        // protection of the terminal as supplied, such as IP55
	Leakage      *unit.Current // protective conductor current; nil is taken by kind
	Movable      bool          // plugs in rather than being hard-wired
	Outlet       *unit.Current // rating of a socket outlet; nil: the next of IEC 60309
	Curve        Curve         // as the maker asks; empty: by kind
	// Device is the rating of the protective device as the maker asks; nil: the next.
	Device *unit.Current
	// ResidualTrip tells that a residual current device is what cuts an earth fault off.
	ResidualTrip bool
	Line         int   // 1, 2 or 3 where a load to neutral is already connected to a line; 0 is free
	StaysOn      *bool // whether it stays on at an emergency stop; nil by kind
	Nameplate    bool  // figures are from the rating plate rather than an estimate
}

// Run is one state a load runs in.
type Run struct {
	// State is a key of the day, or one of the words of Expand.
	State string
	// Duty is the mean share of the rated power over the state; nil by kind.
	Duty *unit.Ratio
	// Peak is the highest share of the rated current drawn at any moment; nil
	// follows from the duty and the control.
	Peak *unit.Ratio
}

// Supply is what the building has. A nil is unknown and never passes a check.
type Supply struct {
	Phases       *int                // 1 (in the US 120/240 V split), 3
	Voltage      *unit.Voltage       // between lines; line to neutral on one phase (US split phase: 240)
	PhaseVoltage *unit.Voltage       // line to neutral; nil follows from Voltage
	Fuse         *unit.Current       // rating of the fuse-link or main breaker
	FuseBasis    Basis               // an unseen link may be smaller than its carrier
	Existing     *unit.Current       // highest existing load of a line
	PerLine      *[3]unit.Current    // existing load of each line, where known; wins over Existing
	Basis        Basis               // how Existing is known
	Agreed       *unit.ApparentPower // capacity agreed with the operator
	Private      bool                // fed from the site's own transformer: wider limits of voltage drop
	Meter        string              // kind of meter, for the header; empty is unknown
	Ze           *unit.Impedance     // external earth fault loop
	Earthing     string              // TN-S, TN-C-S (PME), TT; what is not understood is unknown
	Fault        *unit.Current       // prospective fault current at the origin
	Distance     *unit.Length        // cable way from the origin to the brewery's board
	Offers       []Offer             // nil: the usual steps of the rule set
}

// Offer is a supply the network operator can give.
type Offer struct {
	Phases int
	Fuse   unit.Current
	Note   string
}

// DayState is one state of the brew day.
type DayState struct {
	Key   string
	Title string
	Hours unit.Duration
	// Of names states whose loads run here together, such as mash and boil on a day
	// of two brews; empty is the state's own loads.
	Of []string
}

// Band is a tariff band from one time of day to another; it may pass midnight.
type Band struct {
	Name     string
	From, To unit.Duration
}

// Installation is how cables are laid unless a load says otherwise.
type Installation struct {
	Cable   CableType         // empty: armoured
	Method  Method            // empty: E
	Ambient *unit.Temperature // nil: 35 °C, assumed
	Grouped int               // 0: 6 cables, assumed
	Length  *unit.Length      // nil: 25 m, assumed
	// Derating is the rated diversity factor of the board for circuits loaded side by
	// side for hours; nil is 0.8.
	Derating *unit.Ratio
	// Spaced tells that the breakers of elements have a free way beside them, so that
	// the board's derating does not apply.
	Spaced bool
	// Terminals75 tells that the terminals at both ends are marked 75 °C (NEC).
	Terminals75 bool
}

// Interlock is the means that hold a group of loads apart.
type Interlock struct {
	Group    string
	Manual   bool // only an instruction: it does not count
	Supplier string
}

// Part is a conductive part that enters the building.
type Part struct{ Name string }

// Alternative is another way to equip the brewery.
type Alternative struct {
	Code  string // product code or other mark the caller knows it by
	Words string // such as "steam-heated brewhouse"
	Kind  string // remedy kind, such as "steam-variant", "gas-variant", "smaller-elements"
	Loads []Load // the whole load list with it
}
