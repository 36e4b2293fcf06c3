package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Result holds what Size worked out; the figures are those of the design weeks.
type Result struct {
	Assumptions []Assumption // what was taken for want of a fact, each once

	Fluid   Mixture
	Tanks   []TankResult  // in the order of Input.Tanks
	Crashes []CrashResult // one for each batch that is cooled down, in the order of the batches
	Hours   []Hour        // one for each hour of the design weeks
	Load    LoadSummary
	Circuit Circuit
	Chiller ChillerResult
	Store   StoreResult
	Siting  SitingResult
	Batches []Batch  // as used, assumed ones included
	Stays   []Stay   // as used
	Refills []Refill // as used
	Bars    []Bar    // the schedule as bars
	AtPeak  []Bar    // those that run in the highest hour
	Sheet   Sheet    // rows of the contractor's sheet
	Trace   trace.Trace
	Room    unit.Temperature // as used
	Ambient unit.Temperature // as used
	Horizon int              // hours of the design weeks

	made *design // how it was worked, so that remedies are tried without working all again
}

// Facts are what the rules judge.
type Facts struct {
	Input  Input
	Result Result
}

// Assumption is a value taken for want of a fact.
type Assumption struct {
	Field    string // field of Input
	Quantity unit.Quantity
	Words    string
	Source   source.Ref
}

// Mixture is the glycol of the circuit.
type Mixture struct {
	Supply, Return unit.Temperature
	Mass, Volume   unit.Ratio // glycol by mass and by volume
	Freeze         unit.Temperature
	Below          unit.TempDiff // first ice below the supply temperature
	AtSupply       Fluid
	AtMean         Fluid
	Coldest        unit.Temperature // coldest beer or liquor it serves
	BeerFreeze     unit.Temperature // of the beer most easily frozen
}

// TankResult is a tank as it stands in the load.
type TankResult struct {
	Tag        string
	Use        Use
	Volume     unit.Volume
	Body       Body
	U          unit.HeatTransfer // through the insulation
	Hold       unit.Temperature  // coldest it is kept at
	GainCold   unit.Power        // at Hold
	Capacity   unit.HeatCapacity
	Jacket     unit.Area
	JacketFlow unit.VolumeFlow
	JacketDrop unit.PressureDiff
	JacketHeld unit.Volume
	PeakHeat   unit.Power    // highest heat of fermentation; zero where none ferments
	ToWarm     unit.Duration // from standstill of the chiller to 3 K warmer, at the worst hour of the tank
}

// CrashResult is the cooling down of one batch.
type CrashResult struct {
	Tank, Beer string
	From, To   unit.Temperature
	Wish       unit.Duration // time allowed
	Mean       unit.Power    // heat out of beer and steel over the time allowed
	WithGain   unit.Power    // with the mean gain through the skin
	Ramped     unit.Duration // time taken under the ramp; beyond Wish the jacket limits
	Open       unit.Duration // time with the valve open throughout
	Reached    bool          // the jacket gets there at all
	Initial    unit.Power    // drawn by the open valve in the first minute
	Rise       unit.TempDiff // of the glycol then
	Ratio      unit.Number   // Initial over the mean of the open time
}

// Hour is the load of one hour, as a mean over it.
type Hour struct {
	Ferment  unit.Power
	Crash    unit.Power
	Gain     unit.Power // through the skins of fermenters
	Bright   unit.Power // bright tanks: gain, and warming on the way in
	Liquor   unit.Power // cold liquor: refill and gain
	Wort     unit.Power // second stage of the wort cooler
	Fixed    unit.Power // pipes and pump
	Cellar   unit.Power // all but Wort
	Crashing int        // tanks being cooled down
}

// LoadSummary is the duty and where it comes from.
type LoadSummary struct {
	Process     unit.Power // highest hour of the cellar, without pipes and pump
	PeakHour    int
	Mean        unit.Power    // of the cellar over the weeks, without pipes and pump
	SumOfMaxima unit.Power    // if each item ran at its own highest at once
	Diversity   unit.Ratio    // Process over SumOfMaxima
	MeanCrash   unit.Number   // tanks being cooled down, as a mean
	CrashAtOnce int           // tanks cooled down at once that the duty allows for
	Postponed   unit.Duration // longest wait of a crash under the interlock of Input.CrashAtOnce
	ExtraCrash  unit.Power    // added to the highest hour for that
	Design      unit.Power    // Process with ExtraCrash
	Pipe, Pump  unit.Power    // gains of pipes, heat of the pump
	Margin      unit.Ratio    // applied once
	Duty        unit.Power    // (Design + Pipe + Pump)(1 + Margin)
	WithStore   unit.Power    // the same with the store shaving the peak; equal to Duty without a store
	OpenValves  unit.Power    // first draw of CrashAtOnce open valves
	WeekEnergy  unit.Energy   // taken from the cellar over the weeks
	Least       unit.Power    // lowest hour, pipes and pump included
}

// steady is the mean load with what pipes and pump add to it.
func (s *LoadSummary) steady() unit.Power { return s.Mean + s.Pipe + s.Pump }

// ChillerResult is the chosen chiller at the design's conditions.
type ChillerResult struct {
	Rated     bool   // the maker's table covers the conditions
	Why       string // why it is not
	Units     int
	Each      Output     // one unit
	Capacity  unit.Power // all units
	Input     unit.Power
	Spare     unit.Power    // Capacity less the duty with the store
	Run       unit.Ratio    // mean load over capacity
	Catalogue unit.Power    // capacity of the same table at its mildest point
	Factor    unit.Ratio    // Each.Capacity over Catalogue
	OneLess   unit.Power    // capacity with one unit standing
	ToWarm    unit.Duration // shortest time to 3 K warmer with no cooling
	WarmTank  string
	Curve     []CurvePoint     // output at the design's glycol over the air temperature
	Entering  unit.Temperature // mixed return while CrashAtOnce valves stand open
}

// CurvePoint is the output of all units at one air temperature of the maker's table.
type CurvePoint struct {
	Ambient         unit.Temperature
	Capacity, Input unit.Power
}

// StoreResult is the store of glycol.
type StoreResult struct {
	Installed   unit.Volume // buffer and built-in reservoir
	Short       unit.Volume // against short running
	Starts      unit.Volume // against too many starts
	Cycling     unit.Volume // the larger of the two
	Swing       unit.TempDiff
	Energy      unit.Energy // given by the buffer within its swing
	WortEnergy  unit.Energy // of one knock-out's second stage
	WortNeed    unit.Energy // to come out of the store
	WortVolume  unit.Volume // store for it
	WortSettles bool        // the chiller can restore it within the weeks
	Mass        unit.Mass   // of the glycol in the buffer, for the floor
	Fill        unit.Volume // whole circuit
	Glycol      unit.Mass   // pure, in the filling
	GlycolL     unit.Volume
	Expansion   unit.Ratio
	Swell       unit.Volume
	Vessel      unit.Volume // closed circuit; zero where open
	DrainBack   unit.Volume // stands above an open reservoir
	Freeboard   unit.Volume // an open reservoir leaves free: swelling, what drains back, and 5 %
}

// SitingResult is what the chiller asks of its place.
type SitingResult struct {
	Rejected    unit.Power
	Air         unit.VolumeFlow  // needed at 10 K
	FreeArea    unit.Area        // of louvres, each way, inside
	Sound       *unit.SoundLevel // at the neighbour's window; nil unknown
	SoundLimit  unit.SoundLevel
	Refrigerant *Refrigerant // nil unknown
	CO2e        *unit.Mass
	Flags       []Flag
}

// Flag is a point a person must look into; it is no design.
type Flag struct {
	Title, Words string
	Source       source.Ref
}

// Bar is one stretch of the schedule.
type Bar struct {
	Tank, Beer, Stage string
	From, To          unit.Duration
}
