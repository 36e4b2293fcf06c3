// Package air answers what a brewery's steam and carbon dioxide do to the air of
// the rooms it stands in: how much vapour the kettle gives off, what a canopy must
// draw to catch it and to carry it without fog, what a vapour condenser takes
// instead, how carbon dioxide builds up over the week and after a loss, and what
// ventilation and alarms keep people alive; and what a neighbour hears of the
// machines outdoors.
//
// Begin with Input and Size; Rules judge the Facts. The formulas stand on their
// own: psychro.go (moist air), mixing.go (vapour into air), canopy.go (capture,
// ducts, make-up), condenser.go, gas.go (fermentation gas), room.go (concentration),
// release.go (loss of a tank or a cylinder), noise.go (machines outdoors).
//
// Left out: smells and planning, fan curves, rainwater in stacks, explosive dust,
// and every duty of law, which a competent person decides.
package air

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Country decides which exposure limits and words apply.
type Country string

const (
	GB Country = "GB"
	IE Country = "IE"
	DE Country = "DE"
	US Country = "US"
)

// Input is what the discipline needs to know. Either part may be absent.
type Input struct {
	Country Country  // limits and alarm points; empty counts as GB
	Noise   []Noise  // neighbours who hear machines outdoors
	Steam   *Steam   // the kettle's vapour; nil where nothing boils or it is not worked out
	Boils   bool     // a kettle boils here, also where Steam is nil
	Burners []Burner // what burns gas
	// GasSupply tells whether the building has gas to burn; nil unknown.
	GasSupply *bool
	Gas       []GasSpace // every room in which carbon dioxide is made, stored or can run to
}

// Room is the air space of one room.
type Room struct {
	Name   string
	Area   unit.Area   // floor area
	Height unit.Length // clear height; 0 unknown
	Volume unit.Volume // air volume where it is not area times height; 0 takes the product
	// LowPoint says that the floor lies below the ground around it, or that the room
	// has a pit or a stair going down: heavy gas stays there. Nil is unknown.
	LowPoint *bool
}

// Air is the air volume of the room.
func (r Room) Air() unit.Volume {
	if r.Volume > 0 {
		return r.Volume
	}
	return unit.CubicMetres(r.Area.M2() * r.Height.M())
}

// AirState is a state of moist air.
type AirState struct {
	Temp     unit.Temperature
	Humidity unit.Ratio // relative humidity
}

// Steam is the kettle and what is done with its vapour.
type Steam struct {
	Room        Room
	Evaporation unit.MassFlow // water boiled off at full boil
	Kettle      unit.Volume   // wort in the kettle, for the evaporation as a share; 0 leaves it out
	Heat        string        // "electric", "steam" or "gas": sets the convection coefficient
	PlanArea    unit.Area     // plan area of the boiling surfaces below the canopy; 0 leaves the convection method out
	OtherHeat   unit.Power    // sensible heat drawn into the canopy beside the vapour
	Indoor      AirState      // room air drawn into the canopy
	Winter      AirState      // outdoor design state in winter
	Summer      AirState      // outdoor design state in summer; zero leaves it out
	Altitude    unit.Length   // above sea level
	SteamFree   *bool         // the site allows no steam in the room; nil unknown
	// Sewer is the most that the sewer takes; 0 takes the country's usual limit.
	Sewer     unit.Temperature
	OtherDraw unit.VolumeFlow // air that other fans draw from the same room during the boil

	DuctRun unit.Length // straight duct from canopy to discharge; 0 takes 6 m
	Bends   int         // in that duct; 0 takes two

	Canopy    *Canopy    // nil: none chosen
	Condenser *Condenser // nil: none chosen
	Makeup    MakeUp
	Surfaces  []HotSurface // what warms the room
	Motors    unit.Power   // motors and lights in the room
	Canopies  []Canopy     // other canopies that could be chosen
	Condenses []Condenser  // other condensers that could be chosen
}

// Canopy is an extraction canopy with its fan and duct.
type Canopy struct {
	Name      string
	Length    unit.Length
	Width     unit.Length
	Underside unit.Length       // height of the lower edge above the floor; 0 unknown
	Flow      unit.VolumeFlow   // air drawn at the installed resistance
	Duct      unit.Length       // main duct diameter; 0 takes the proposal
	Outlet    unit.Length       // diameter at the discharge; 0 takes the proposal
	Head      unit.PressureDiff // external pressure of the fan at that flow; 0 unknown
	Drained   bool              // gutter falls to a drain, not to the kettle
	Insulated bool              // duct insulated and drained at its low point
	Above     *unit.Length      // discharge above the nearest openable window; nil unknown
	Face      unit.Velocity     // capture velocity over the plan; 0 takes 0.25 m/s
}

// Condenser takes the vapour down in water.
type Condenser struct {
	Name     string
	Vapour   unit.MassFlow    // vapour it takes at its rating
	Water    unit.VolumeFlow  // cooling water at that rating; 0 takes the heat balance
	WaterIn  unit.Temperature // cold water
	WaterOut unit.Temperature // warmed water
	Out      unit.Temperature // condensate; 0 takes 85 °C
	Spray    bool             // water is sprayed into the vapour and goes to the drain
}

// MakeUp is where the air comes from that the canopy draws.
type MakeUp struct {
	Openings *unit.Area       // free area of louvres and openings; nil unknown
	Supply   *unit.VolumeFlow // mechanical supply; nil: none or unknown
	To       unit.Temperature // warmed to; 0 takes 2 K below the room
}

// HotSurface warms the room.
type HotSurface struct {
	Name string
	Area unit.Area
	Temp unit.Temperature
	U    unit.HeatTransfer // 0 takes 10 W/m²K, bare steel
}

// GasSpace is one room with carbon dioxide in it.
type GasSpace struct {
	Room  Room
	Tanks []GasTank
	// Batches of the busiest week, times counted from the week's start; a batch
	// that started before has a negative start.
	Batches []Batch
	// Hourly is the gas made in each hour of the week; where given, batches are ignored.
	Hourly []unit.MassFlow
	Piped  bool              // blow-offs are piped to the open air, away from openings and pits
	Leak   unit.Ratio        // share that still reaches the room with blow-offs piped; 0 takes 5 %
	Purge  unit.MassFlow     // purging and filling losses into the room, as a mean
	Fan    *unit.VolumeFlow  // extract there is or is chosen; nil: unknown; 0: none
	Low    *bool             // the extract draws at floor level; nil unknown
	Mixing unit.Ratio        // mixing factor K of the ventilation, 1 perfect to 10 poor; 0 takes 3
	Fans   []unit.VolumeFlow // other extract flows that could be chosen, rising
	// Stored tells whether gas is kept in cylinders or in bulk; nil unknown. Stores are
	// known only where it is told.
	Stored *bool
	Stores []Store
	// Unplanned says that tanks ferment here whose gas nobody worked out: without batches
	// the room is then unknown, not free of gas.
	Unplanned bool
	Stirred   bool // air-mixing fans interlocked with the detectors: the whole room dilutes a loss
	Alarm     Alarm
}

// GasTank is a vessel that can lose its gas to the room.
type GasTank struct {
	Name      string
	Gross     unit.Volume
	Filled    unit.Volume        // beer in it
	Pressure  unit.GaugePressure // in the headspace
	Temp      unit.Temperature
	Dissolved unit.Carbonation
	Purged    bool // stands empty, filled with gas, before a transfer
}

// Store is a cylinder or bulk vessel.
type Store struct {
	Name    string
	Content unit.Mass
	Count   int
	Outdoor bool
}

// Alarm is the detection there is or is chosen.
type Alarm struct {
	Detectors *int // carbon dioxide detectors; nil unknown
	Outside   bool // display and sounder outside every door
	Oxygen    bool // oxygen monitors stand in for carbon dioxide detectors
	FanSwitch bool // fan-flow switch and detector mains failure raise the alarm
}

// Batch is one fermentation of the week.
type Batch struct {
	Tank     string
	Start    unit.Duration // from the week's start
	Volume   unit.Volume
	Original unit.Plato       // original extract
	Final    unit.Plato       // apparent final extract
	Peak     unit.ExtractRate // peak fall of apparent extract; 0 takes 4 °P/d
	CO2      unit.Mass        // gas of the whole batch; 0 follows from the extracts
	PeakGas  unit.MassFlow    // peak gas; 0 follows from Peak
	Retained unit.Carbonation // stays in the beer; 0 counts all as given off
}

// Result holds what Size worked out.
type Result struct {
	Limits  []Limit // of the country, the shift's first
	Alarms  AlarmPoints
	Steam   *SteamResult
	Gas     []GasResult   // in the order of Input.Gas, without the rooms that cannot be sized
	Unsized []string      // rooms with carbon dioxide whose air volume is not known
	Noise   []NoiseResult // in the order of Input.Noise
	Trace   trace.Trace
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Cautions stand on every paper that prints these results.
func Cautions() []string {
	return []string{
		"Preliminary: engineering estimate, ±30 %. Ventilation, gas safety and work in vessels are decided on site by competent persons; check the current text of every limit and regulation named here.",
		"Carbon dioxide kills without warning and is not seen by oxygen monitors. Nobody enters a room in alarm, a pit or a vessel without a written procedure, a second person and a measured atmosphere.",
		"Vapour and hot condensate scald. Condensate from canopy and stack is led to a drain, never back into the kettle.",
	}
}
