// Package pressure answers what law and safety ask of a brewery's pressure
// equipment: the category of each vessel and jacket with every exception, the papers
// the buyer must receive, relief and vacuum protection, and when a written scheme of
// examination is needed.
//
// Begin with Input and Size; Rules judge the Facts. category.go holds the tables of
// the directive, exclude.go its exceptions, relief.go and vacuum.go the protection,
// carbonation.go the pressure that carbonated beer asks of its tank.
//
// The inner boundaries of the categories come from memory; each verdict says so.
// Left out: strength of the shell, refrigerant circuits, and every verdict of law,
// which a competent person or a notified body gives.
package pressure

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Country decides the instruments.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// Input is what the discipline needs to know.
type Input struct {
	Country Country // empty counts as GB
	Vessels []Vessel
	Scheme  *bool // a written scheme of examination is in the plan; nil unknown
}

// Contents is what a chamber holds at its pressure.
type Contents string

const (
	BeerCO2    Contents = "beer-co2"    // beer under carbon dioxide
	CO2        Contents = "co2"         // the gas alone
	Air        Contents = "air"         // compressed air
	Nitrogen   Contents = "nitrogen"    // compressed nitrogen
	Steam      Contents = "steam"       // not fired: jackets and pipes
	Water      Contents = "water"       // up to 110 °C without a gas cushion
	Superheat  Contents = "superheated" // water above 110 °C
	Coolant    Contents = "coolant"     // glycol and water
	Caustic    Contents = "caustic"     // cleaning liquid
	Flammable  Contents = "group-1"     // R290, ammonia and other group 1 fluids
	Atmosphere Contents = "open"        // wort, liquor in an open or freely vented vessel
)

// Kind is what the equipment is.
type Kind string

const (
	Tank       Kind = "tank"
	Receiver   Kind = "receiver"
	Generator  Kind = "steam-generator" // heated with a risk of overheating
	Keg        Kind = "keg"             // carries drinks
	Bottle     Kind = "bottle"          // bottle or can for drinks
	Cylinder   Kind = "cylinder"        // transportable gas cylinder
	Pipe       Kind = "pipe"
	Exchanger  Kind = "exchanger"
	Cooker     Kind = "pressure-cooker"
	Heating    Kind = "warm-water-heating"
	Extinguish Kind = "extinguisher"
)

// Vessel is one piece of equipment with its chambers.
type Vessel struct {
	Tag         string
	Description string
	Kind        Kind
	Contents    Contents
	Volume      *unit.Volume        // total inside, heads and cone included; nil unknown
	Net         unit.Volume         // working volume, from which the total is estimated
	PS          *unit.GaugePressure // highest allowed pressure by the maker; nil unknown
	TSLow       *unit.Temperature
	TSHigh      *unit.Temperature
	Vented      bool         // freely open to the room by a line without a valve
	DN          *unit.Length // of a pipe
	Stainless   bool         // a receiver of stainless steel is no simple pressure vessel
	Machine     bool         // built into a machine covered by the machinery legislation
	Jacket      *Jacket
	Papers      Papers

	GasMax     *unit.GaugePressure // highest pressure of connected gas when its regulator fails open; nil unknown, 0 none connected
	GasFlow    unit.MassFlow       // flow of that regulator failed open; 0 unknown
	PumpIn     unit.VolumeFlow     // pump that can overfill it
	PeakGas    unit.MassFlow       // fermentation at its peak
	Relief     *Relief             // nil unknown
	Vacuum     *Vacuum             // nil unknown
	HotClean   *bool               // hot cleaning or steam; nil unknown
	CleanTemp  unit.Temperature    // 0 takes 70 °C
	RinseTemp  unit.Temperature    // of the last rinse; 0 takes 15 °C
	RinseSteps int                 // rinses that step down to it evenly; 0 or 1: cold water at once
	CausticCO2 *bool               // caustic with carbon dioxide inside; nil unknown
	Soda       unit.MassFlow       // caustic soda that is pumped in, as NaOH; 0 unknown
	PumpOut    unit.VolumeFlow     // pumped out without gas following
	Bears      unit.PressureDiff   // vacuum the plate allows; 0: not rated

	Carbonation *unit.Carbonation // of beer kept in it; nil unknown or not carbonated
	BeerTemp    unit.Temperature  // highest at which it is kept carbonated
}

// Jacket is a second chamber.
type Jacket struct {
	Contents Contents
	Volume   *unit.Volume
	PS       *unit.GaugePressure

	Supply *unit.GaugePressure // highest pressure of the steam that feeds it; nil unknown
	Relief *Relief             // behind a reducing valve in that feed; nil unknown
}

// Papers are what the maker promises with the goods.
type Papers struct {
	Conformity *bool // EU or UK declaration of conformity
	Body       *bool // certificate of a notified or approved body
	Marked     *bool // bears a CE or UKCA mark for pressure equipment
}

// Relief is a relief valve or bursting disc.
type Relief struct {
	Fitted bool
	Set    unit.GaugePressure
	Area   unit.Area // flow area; 0 unknown
}

// Vacuum is a vacuum relief valve.
type Vacuum struct {
	Fitted bool
	Area   unit.Area         // flow area; 0 unknown
	Opens  unit.PressureDiff // below the room; 0 takes 3 mbar
}

// Row is one chamber in the pressure register.
type Row struct {
	Tag           string
	Description   string
	Chamber       string // "vessel" or "jacket"
	Volume        unit.Volume
	Assumed       bool // volume estimated from the working volume
	PS            unit.GaugePressure
	TSLow, TSHigh *unit.Temperature
	Fluid         string
	Group         int
	PV            unit.PressureEnergy
	Verdict       Verdict
	Consequence   Consequence
	InUse         InUse
	Relief        string // ready words
	VacuumWords   string
	Unknown       string // what is missing, where no verdict can be given
}

// Result holds the register and the protection of each vessel.
type Result struct {
	Register []Row // vessel, then its jacket, in the order of the input
	Vessels  []VesselResult
	Papers   []PaperRow // what the buyer must receive, vessel by vessel
	Trace    trace.Trace
}

// VesselResult is the protection of one vessel.
type VesselResult struct {
	Tag      string
	Overall  Category // highest of its chambers
	Cases    []ReliefCase
	Governs  int // index of the case with the largest area, -1 where none can be sized
	Needed   unit.Area
	Vacuum   []VacuumCase
	Needs    bool                // needs vacuum relief
	Equal    *unit.GaugePressure // equilibrium pressure of the carbonated beer
	Bound    int                 // the beer lies beyond the table: 1 it stands at Equal or more, -1 at Equal or less
	Register []int               // its rows in the register
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Cautions stand on every paper that prints these results.
func Cautions() []string {
	return []string{
		"Preliminary register for the sale. The maker declares the category; a notified or approved body and the competent person of the user decide. Check the current text of every instrument named here.",
		"Inner boundaries of the categories are from memory, above all the 4 bar line of large low-pressure vessels: confirm them in the directive before an order.",
		"Pressure kills. Nobody opens a manway, clamp or cap of a vessel that is not proved free of pressure; relief devices are never valved off, plugged or set higher.",
		"A tank that is cleaned, rinsed, cooled, drained or pumped out has its vent open or air or gas following: shut, it is crushed. Carbon dioxide is purged with air before caustic goes in.",
		"A jacket or pipe full of liquid and shut in at both ends bursts as it warms: one end stays open to an expansion vessel, or a relief valve sits between.",
		"Nobody enters a vessel without a written permit, isolation, a measured atmosphere and somebody outside who can call for rescue.",
	}
}
