package cooling

import "tunwright/catalog/unit"

// Input is what the discipline needs to know. Tanks and Chiller must be given. All
// else may be left out: nil (or the zero value where the comment says so) means
// unknown, the stated assumption is taken and stands in Result.Assumptions.
type Input struct {
	Country string // ISO code of the site; decides which refrigerant law is named; empty names the European one

	Supply   *unit.Temperature // glycol to the jackets; nil takes 5 K below the coldest beer, from -5 to 2 °C
	Rise     *unit.TempDiff    // warming of the glycol at design; nil takes 4 K
	Glycol   *unit.Ratio       // propylene glycol by mass; nil takes what freezes 8 K below the supply, 30 % at least
	Room     *unit.Temperature // tank room in summer; nil takes 30 °C
	Humidity *unit.Ratio       // relative humidity of the room; nil takes 80 %, a washed-down brewery
	Ambient  *unit.Temperature // air entering the condenser; nil: 35 °C is taken, but the chiller cannot be judged
	Winter   *unit.Temperature // coldest air at pipes outdoors; nil: unknown
	Mains    *unit.Temperature // mains water in summer; nil: 20 °C is taken, but what hangs on it cannot be judged
	Altitude *unit.Length      // above the sea; nil takes sea level
	Margin   *unit.Ratio       // added once to the duty; nil takes 15 %

	// Horizon is the length of the design weeks, whole hours; zero takes the length of
	// the assumed schedule. Repeats says that the weeks follow one another without
	// end, so that what runs beyond the end comes in again at the beginning.
	Horizon unit.Duration
	Repeats bool

	Tanks   []Tank
	Batches []Batch  // empty: each fermenter is filled once in two weeks, evenly staggered
	Stays   []Stay   // empty: each batch goes on to a bright tank for three days, in turn
	Refills []Refill // empty: a cold-liquor tank is refilled to 55 % over 20 h, 6 h after each batch starts
	Wort    *Wort    // second stage of the wort cooler on glycol; nil: there is none

	CrashAtOnce *int  // tanks cooled down at the same time at most; nil takes the mean number rounded up, and one more
	OpenJackets *int  // jackets open at the same time for the flow; nil takes half of them
	Ramped      *bool // the controller lowers set points by a ramp, so that a valve does not stand open from the first minute; nil unknown

	Chiller      Chiller
	Units        int       // equal chillers working together; zero is one
	Alternatives []Chiller // other chillers that could be chosen

	Buffer *Buffer // store of glycol beside the chiller; nil: only what is built into the chiller
	Pump   *Pump   // pump of the jackets' circuit; nil takes the one built into the chiller
	Pumps  []Pump  // pumps that could be chosen
	Bypass *bool   // a by-pass, or a store with its own chiller pump, keeps the chiller's flow when jackets close; nil unknown
	Sealed bool    // closed circuit with an expansion vessel; false is an open reservoir

	Route  Route
	Siting Siting
}

// Use is what a tank is for.
type Use string

const (
	Ferment    Use = "ferment"
	Bright     Use = "bright"
	ColdLiquor Use = "cold-liquor"
)

// End is the shape of a tank's end.
type End string

const (
	Cone   End = "cone"
	Dished End = "dished" // torispherical, R = D, r = 0.1 D
	Flat   End = "flat"
)

// Tank is one cooled vessel.
type Tank struct {
	Tag      string
	Use      Use
	Volume   unit.Volume // working volume
	Gross    unit.Volume // brim-full; zero adds 25 % (fermenter) or 10 %
	Diameter unit.Length // inside; zero takes the cube root of the working volume
	Cylinder unit.Length // straight shell; zero follows from the volume
	Bottom   End         // empty: cone for a fermenter, else dished
	Angle    unit.Angle  // full angle of the cone; zero takes 60°
	Top      End         // empty: dished

	Steel      *unit.Mass // steel cooled with the beer; nil takes 0.32 kg for each litre
	JacketBody unit.Area  // jacket on the shell
	JacketCone unit.Area  // jacket on the cone; both zero takes 40 % of shell and bottom
	JacketPS   *unit.GaugePressure
	JacketDrop *unit.PressureDiff // at JacketFlow; nil takes 20 kPa
	JacketFlow *unit.VolumeFlow   // rated flow; nil takes 1.8 times what the mean crash duty needs
	JacketHeld unit.Volume        // glycol in the jacket; zero takes 12 L for each m²
	ValveKv    *unit.FlowCoefficient

	Insulation *unit.Length       // nil takes 80 mm
	Lambda     *unit.Conductivity // nil takes 0.026 W/(m·K), sprayed polyurethane
	Hold       *unit.Temperature  // kept at; nil takes 1 °C (bright) or 3 °C (cold liquor); a fermenter follows its batches
}

// Batch is one fermentation. Times count from the beginning of the design weeks; a
// batch that began before has a negative start.
type Batch struct {
	Tank     string // tag of the fermenter
	Beer     string
	Start    unit.Duration // tank full and pitched
	End      unit.Duration // tank emptied
	Volume   unit.Volume   // zero takes the tank's working volume
	Lager    bool          // course of the heat: slow and long; false is an ale
	Original unit.Plato
	Final    unit.Plato        // apparent
	Ferment  unit.Temperature  // zero takes 20 °C, lager 10 °C
	Heat     *unit.Energy      // of the whole fermentation; nil follows from the extracts
	Peak     *unit.Power       // highest heat; nil follows from the course of the kind
	Crash    *Crash            // nil: not cooled down in the fermenter
	Cold     *unit.Temperature // kept at after the crash; nil takes the crash's target
}

// Crash is the cooling of a fermented batch.
type Crash struct {
	Start unit.Duration // from the beginning of the design weeks
	To    unit.Temperature
	Over  unit.Duration // time allowed; zero takes 24 h, lager 48 h
}

// Stay is beer in a bright tank.
type Stay struct {
	Tank       string
	Start, End unit.Duration
	Volume     unit.Volume   // zero takes the tank's working volume
	WarmUp     unit.TempDiff // gained on the way in and taken out again; zero takes 2 K
	Over       unit.Duration // taken out over; zero takes 12 h
}

// Refill is water cooled down in a cold-liquor tank.
type Refill struct {
	Tank   string
	Start  unit.Duration
	Volume unit.Volume
	Over   unit.Duration // time for recovery; zero takes 20 h
}

// Wort is the second stage of a wort cooler on glycol.
type Wort struct {
	Power  unit.Power      // while wort runs
	For    unit.Duration   // one knock-out
	Starts []unit.Duration // from the beginning of the design weeks
}

// Chiller is a packaged chiller as its maker describes it.
type Chiller struct {
	Code        string
	Ratings     []Rating          // a full grid of leaving and ambient temperatures
	Glycol      unit.Ratio        // propylene glycol by mass that the ratings hold for; zero is water
	Stages      int               // steps the output is switched in; zero is one
	MinLeaving  unit.Temperature  // coldest glycol it may make
	MaxEntering *unit.Temperature // warmest glycol it takes back; nil unknown
	MinFlow     *unit.VolumeFlow  // nil unknown
	MaxFlow     *unit.VolumeFlow  // nil unknown
	Drop        *unit.PressureDiff
	PumpHead    *unit.PressureDiff // of the built-in pump at rated flow; nil: it has none
	ShutOff     *unit.PressureDiff // of the built-in pump against a closed valve
	Tank        unit.Volume        // built-in reservoir; zero: none
	Content     unit.Volume        // glycol in evaporator and piping; zero takes 10 L
	Refrigerant string             // ISO 817 designation; empty unknown
	Charge      *unit.Mass
	Sound       *unit.SoundLevel // sound power
	AirFlow     *unit.VolumeFlow // condenser air
}

// Rating is one point of the maker's table.
type Rating struct {
	Leaving, Ambient unit.Temperature
	Capacity, Input  unit.Power
}

// Buffer is a store of glycol.
type Buffer struct {
	Volume unit.Volume
	Swing  unit.TempDiff // it may warm by; zero takes 4 K
}

// Pump is a circulating pump.
type Pump struct {
	Code    string
	Flow    unit.VolumeFlow   // rated
	Head    unit.PressureDiff // at the rated flow
	ShutOff unit.PressureDiff // against a closed valve
}

// Route is the way of the pipes. Lengths are one way; the return lies beside.
type Route struct {
	Header     *unit.Length // chiller to the first tank; nil takes 15 m
	Along      *unit.Length // along the tanks; nil takes 1.5 m for each
	Branch     *unit.Length // main to jacket; nil takes 3 m
	Outdoor    unit.Length  // share of Header outdoors
	Rise       *unit.Length // chiller above (below: negative) the jackets' highest point; nil unknown
	Series     string       // of tables/pipes.csv; empty takes stainless
	Insulation *unit.Length // nil takes what keeps the surface dry
	DrainProof *bool        // check valve and normally closed valves hold the glycol above an open reservoir; nil unknown
	Reverse    bool         // return laid so that every tank has the same length of pipe
}

// Siting is the place of the chiller.
type Siting struct {
	Where       string           // "roof", "yard" or "inside"; empty takes yard
	FreeArea    *unit.Area       // free area of the louvres, in and out each; nil unknown; asked only inside
	Walled      *bool            // stands in a light well or between walls nearer than half their height; nil unknown
	Surfaces    int              // reflecting surfaces: 0 free, 1 on the ground, 2 against a wall, 3 in a corner; zero takes 1
	Neighbour   *unit.Length     // nearest window that is not the client's; nil unknown
	NoiseLimit  *unit.SoundLevel // there at night; nil takes 40 dB(A)
	RoomVolume  *unit.Volume     // of the room it stands in, or jackets of direct evaporation; nil unknown; asked only inside
	OpeningDist *unit.Length     // nearest drain, light well, cellar opening or air intake; nil unknown; asked for flammables
}
