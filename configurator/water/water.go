// Package water answers what a brewery asks of the water main and what it gives
// the drain: peak and daily demand, the size of the incoming pipe and the pressure
// upstairs, treatment, protection against backflow; volumes, strength, temperature
// and pH of waste, consent limits, gullies and pipes; and the compressed air, carbon
// dioxide and nitrogen it uses.
//
// Begin with Input and Size; Rules judge the Facts. demand.go sweeps the brew day,
// supply.go sizes pipes and pressure, backflow.go the protection, waste.go the
// streams, drain.go gullies and pipes, gases.go air and gas.
//
// Left out: legionella, rainwater, soil stacks of the building, the water's salts as
// a brewer wants them, and every duty of law, which a competent person decides.
package water

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Country decides which instruments and devices are named.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// Input is what the discipline needs to know.
type Input struct {
	Country  Country // empty counts as GB
	Supply   Supply
	Fixtures []Fixture // sanitary outlets, with the diversity of people
	Draws    []Draw    // of the busiest day, each at its full flow
	Outlets  []Outlet  // points of use, for backflow
	Heating  string    // "electric", "steam" or "gas": hardness matters where elements or a generator boil water
	Softener bool

	Discharges []Discharge       // of the busiest day
	ColdWater  *unit.Temperature // that cools hot waste; nil takes 12 °C
	Gullies    []Gully
	Drains     []Drain
	Consent    Consent
	Balance    *unit.Volume // balance tank; nil: none
	BeerPerDay unit.Volume  // beer brewed on the busiest day
	BeerWeek   unit.Volume  // beer sold in a week, for gas use
	Yeast      string       // where yeast and trub go: "drain", "side-stream", "" unknown

	Air GasSupply
}

// Supply is the incoming water. What was not surveyed is nil.
type Supply struct {
	Pressure *unit.GaugePressure // static at the boundary
	Flow     *unit.VolumeFlow    // measured at the stopcock, or guaranteed
	Bore     *unit.Length        // inner diameter of the service pipe
	Run      unit.Length         // length from boundary to the furthest outlet
	Rise     *unit.Length        // furthest outlet above the boundary; nil unknown
	Need     unit.PressureDiff   // at the outlet while it flows; 0 takes 1.0 bar
	Meter    unit.PressureDiff   // meter, filter and valves; 0 takes 0.3 bar
	Hardness *unit.Concentration // as mg/L CaCO3
	Break    *unit.Volume        // break or buffer tank; nil: none
	Booster  *Booster            // behind the break tank
	Boosters []Booster           // others that could be chosen
	Others   unit.VolumeFlow     // draws of other users on the same service
}

// Booster is a pump set behind a break tank.
type Booster struct {
	Name string
	Flow unit.VolumeFlow
	Head unit.PressureDiff
}

// Fixture is a kind of sanitary outlet, as named in the table of loading units.
type Fixture struct {
	Kind  string
	Count int
}

// Draw is one use of water in the day.
type Draw struct {
	Name   string
	Start  unit.Duration   // after midnight
	Length unit.Duration   // how long it runs
	Volume unit.Volume     // 0 where the flow is given
	Flow   unit.VolumeFlow // 0: volume over length
	Break  bool            // fed from the break tank, not from the main
	Fixed  bool            // cannot be moved to another time
	Reused unit.Volume     // of this volume what comes back as hot liquor
}

// Outlet is a point of use.
type Outlet struct {
	Name   string
	Use    string // as named in the table of uses: "hose", "cip", "hot-liquor", "coolant", …
	Device string // as named in the table of devices: "AA", "AB", "BA", … or "none"; empty: unknown

	// For the plumber's schedule; each may be left out.
	Connection string // size and thread
	Flow       unit.VolumeFlow
	Day        unit.Volume // drawn in a day
	Temp       *unit.Temperature
	Pressure   unit.GaugePressure // needed at the point
	Drain      string             // where its waste goes
}

// Discharge is one stream to the drain.
type Discharge struct {
	Name     string
	Kind     string // as named in the table of streams: "caustic", "rinse", "hot-liquor", "yeast", "beer", …
	Volume   unit.Volume
	Times    int // a day; 0 counts as one
	Temp     *unit.Temperature
	PH       *unit.Acidity       // nil takes the table's, marked so
	Strength *unit.Concentration // COD; nil takes the table's, marked so
	Start    unit.Duration       // after midnight, of the first
	Outlet   unit.Length         // bore of the opening it runs out of; 0 where the flow is given
	Head     unit.Length         // height of liquid over the opening
	Flow     unit.VolumeFlow     // where it is pumped or throttled
	Gully    string              // where it goes
	Drain    string
	Held     bool // goes through the balance tank
	// Source is the set or vessel that it comes from, of which one stream runs at a
	// time; empty: it can run beside any other.
	Source string
}

// Gully is a floor drain.
type Gully struct {
	Name     string
	Size     string           // "DN50", "DN70", "DN100"
	Flow     *unit.VolumeFlow // tested flow of the maker; nil takes the discharge unit of the size
	Traffic  string           // "foot", "trolley", "forklift", "vehicle"
	Class    string           // load class of the grating, "K3", "L15", "R50", "M125"; empty: unknown
	Seal     *unit.Length     // depth of the trap's water seal
	Drain    string           // pipe it runs into
	Sanitary bool
}

// Drain is a pipe below the floor.
type Drain struct {
	Name     string
	Size     string          // "DN100"; sets the bore where Bore is zero
	Bore     unit.Length     // inner diameter
	Gradient unit.Ratio      // fall along the pipe; 0 takes 1 %
	Filling  unit.Ratio      // depth over diameter; 0 takes 50 %
	Into     string          // pipe it runs into
	Sanitary unit.VolumeFlow // sum of discharge units of the building in it
}

// Consent is the leave to discharge.
type Consent struct {
	Planned *bool        // held, or in the plan; nil unknown
	MaxDay  *unit.Volume // each nil where the consent is not known
	MaxRate *unit.VolumeFlow
	MaxTemp *unit.Temperature // nil takes the country's usual limit, as do the next two
	PHLow   *unit.Acidity
	PHHigh  *unit.Acidity
	MaxCOD  *unit.Concentration
}

// GasSupply is compressed air, carbon dioxide and nitrogen.
type GasSupply struct {
	Users      []AirUser
	Compressor *Compressor
	Others     []Compressor // that could be chosen
	CO2PerHL   unit.Density // 0 takes 3.5 kg/hL
	Cylinder   unit.Mass    // content of one cylinder; 0: bulk or not known
	Nitrogen   unit.Volume  // a week, at 1 bar and 15 °C
	Generator  bool         // nitrogen from a generator
}

// AirUser takes compressed air.
type AirUser struct {
	Name     string
	Flow     unit.VolumeFlow // free air while it works
	Duty     unit.Ratio      // share of the time it works; 0 counts as all of it
	Pressure unit.GaugePressure
	Product  bool // touches the product: sterile
}

// Compressor gives compressed air.
type Compressor struct {
	Name     string
	Flow     unit.VolumeFlow // free air delivered
	Pressure unit.GaugePressure
	Receiver unit.Volume
	Class    string // ISO 8573-1 purity it delivers, such as "1.4.1"; empty unknown
}

// Result holds what Size worked out.
type Result struct {
	Demand   Demand
	Supply   SupplyResult
	Backflow []BackflowRow
	Treat    []Line
	Waste    Waste
	Gullies  []GullyRow
	Drains   []DrainRow
	Gas      GasResult
	Trace    trace.Trace
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Line is one ready row of a schedule: a label with a quantity or a text.
type Line struct {
	Label string
	Value unit.Quantity
	Key   string // ending of the unit to print in, such as "l_s"; empty: the usual unit
	Text  string // where the value is a word
	Note  string
}

// Figure prints the row's value or text.
func (l Line) Figure() string {
	if l.Value == nil {
		return l.Text
	}
	if u, ok := l.Value.Kind().ByKey(l.Key); ok {
		return unit.Digits(u.From(l.Value.SI()), 4) + " " + u.Symbol
	}
	return l.Value.String()
}

// Cautions stand on every paper that prints these results.
func Cautions() []string {
	return []string{
		"Preliminary: engineering estimate, ±30 %. The undertaker, the drainage authority and a licensed plumber decide; check the current text of every regulation and consent named here.",
		"Protect the main first: no hose, cleaning set or tank is connected before its backflow device is fitted and, where the undertaker asks, tested.",
		"Hot liquor, caustic and acid burn. Hot or strong discharges run to a gully in reach of no one, and acid is never mixed into caustic by hand.",
	}
}
