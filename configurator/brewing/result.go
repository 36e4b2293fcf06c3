package brewing

import (
	"time"

	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Result is the plan with its intermediates.
type Result struct {
	// Proposed tells what Size chose itself.
	ProposedLength bool
	ProposedTanks  bool
	BrewLength     unit.Volume // cold wort to the fermenter, one brew
	Trials         []LengthTrial

	Beers       []BeerPlan
	Totals      Totals
	Classes     []TankClass // fermenters by size and class, then bright tanks
	Fermenters  []TankPlan
	Brights     []TankPlan
	Batches     []Batch // in order of their start
	Weeks       []Week  // 52
	Busiest     int     // index into Weeks
	PeakWeeks   []int   // indexes of the weeks with as many brews as the busiest
	Late        []int   // batches (index) that start later than the limit
	Unplaced    []int   // batches (index) that found no tank in the year
	Bottleneck  Bottleneck
	Growth      []Growth
	BrewDays    []BrewDay // of one brew, and of two in a day
	Materials   []Material
	Handling    HandlingPlan
	Duty        Duty
	Dumps       []Dump
	Clean       []Cleaning
	Vessels     []VesselRow
	WaterSteps  []WaterStep
	DayEffects  []DayEffect
	Assumptions []Assumption
	// Settled is the input with every default filled in.
	Settled Input
	Trace   trace.Trace
	first   time.Time
}

// Date gives the calendar day of a day of the plan; zero where the plan is undated.
func (r Result) Date(day int) time.Time {
	if r.first.IsZero() {
		return time.Time{}
	}
	return r.first.AddDate(0, 0, day)
}

// LengthTrial is one brew length tried.
type LengthTrial struct {
	Length    unit.Volume
	BrewsYear int
	BrewsWeek unit.Number // mean
	BrewsPeak unit.Number // peak week
	Fits      bool
}

// BeerPlan is the batch sheet of one beer with its year.
type BeerPlan struct {
	Beer  Beer
	Label string // kind of beer in words
	// Pitch, Ferment and Cold are the temperatures of the cellar as planned.
	Pitch, Ferment, Cold unit.Temperature
	Days                 Stages

	BrewsPerTank int
	Batches      int
	Brews        int
	Packaged     unit.Volume // the year's actual batches, at least what is asked
	PureAlcohol  unit.Volume
	Class        string // fermenter class of TankClass.Name
	Dedicated    string // class that its fermenters must have; "" is common
	BrightClass  string
	TankGross    unit.Volume // least gross volume of a fermenter
	BrightGross  unit.Volume // least gross volume of a bright tank
	Headspace    unit.Ratio
	LeastBrew    unit.Volume // shortest brew of this beer, cold wort
	LeastSpace   unit.Ratio  // headspace below which no fermenter is filled
	KettleDays   int         // days the kettle is held before the boil

	Brew   BrewSheet
	Charge Charge // one fermenter
	Winter *Knockout
	Summer *Knockout // nil where the mains temperature is unknown
}

// BrewSheet is one brew from grist to fermenter.
type BrewSheet struct {
	Chain       []VolumeStep // every volume with its state
	Gravity     unit.Gravity
	Malt        unit.Mass
	Bags        int
	Extract     unit.Mass // in the kettle
	MashVolume  unit.Volume
	TunGross    unit.Volume      // mash with freeboard
	LauterArea  unit.Area        // at the highest loading
	LauterWidth unit.Length      // its diameter
	Loading     unit.MassPerArea // on the chosen floor, or the highest
	Bed         unit.Length      // on the chosen floor, or at the highest loading
	WetGrain    unit.Mass
	HeldWater   unit.Mass
	MashLiquor  unit.Volume
	Sparge      unit.Volume
	HotLiquor   unit.Volume // mash and sparge, cold volume
	LiquorShare unit.Ratio  // hot liquor on cold wort to the fermenter
	Strike      unit.Temperature
	LiquorHeat  unit.Energy // of all hot liquor from winter mains (10 °C where unknown)
	LiquorSaved unit.Energy // of it, when the hot liquor of the last knock-out is kept

	ColdKettle    unit.Volume // cold wort in the kettle at cast-out
	HotCast       unit.Volume // hot, 100 °C, at cast-out
	KettleFull    unit.Volume // hot, before the boil
	KettleGross   unit.Volume // least gross volume
	KettleMass    unit.Mass   // wort before the boil
	KettleExtract unit.Plato  // before the boil
	HeatUp        unit.Energy
	HeatUpTime    *unit.Duration // nil where the heat source is unknown or never boils
	BoilTime      unit.Duration
	BoilPower     unit.Power     // for the planned evaporation
	BoilAtFull    *unit.Duration // for the planned evaporation with the source at full power
	KettleSpace   unit.Ratio     // headspace of the kettle
	Evaporation   unit.MassFlow  // planned
	EvapShare     unit.Ratio     // of cast volume in an hour, reached: planned or what the source gives
	EvapFull      *unit.Ratio    // with the source at full power
	EvapFullFlow  *unit.MassFlow // vapour with the source at full power: size the extract on it
	Evaporated    unit.Mass
	Energy        unit.Energy // liquor, heat-up and boil, at the source
	EnergyPerHL   unit.EnergyPerVolume
	Water         unit.Volume // brewing liquor of one brew, cold
	Hops, Yeast   unit.Mass
}

// VolumeStep is one line of the chain of volumes.
type VolumeStep struct {
	Place  string
	State  string // such as "hot, 100 °C"
	Volume unit.Volume
	Loss   unit.Ratio // from the line above
	Why    string
}

// Charge is one batch in the fermenter.
type Charge struct {
	Wort        unit.Volume // cold, in the fermenter
	WortMass    unit.Mass
	Racked      unit.Volume // to the bright tank
	Packaged    unit.Volume
	Attenuation Attenuation
	DutyABV     unit.ABV
	Mass        Fermented
	PeakHeat    unit.Power
	PeakCO2     unit.MassFlow
	CrashHeat   unit.Energy // fermenting to cold
	CrashPower  unit.Power  // mean over Practice.CrashTime
	Curve       []CurvePoint
	CO2         unit.Carbonation
	Residual    unit.Carbonation    // dissolved after an open fermentation
	AddedCO2    unit.Mass           // to be bought for carbonation; 0 when natural
	Spunding    unit.GaugePressure  // holds the carbonation at the fermenting temperature
	Hold        unit.GaugePressure  // holds the carbonation at the cold temperature
	TankNeeds   *unit.GaugePressure // with the beer's own head; nil unless natural
}

// CurvePoint is a day of a fermentation.
type CurvePoint struct {
	Day       int // end of the day
	Fermented unit.Ratio
	Extract   unit.Plato // apparent
	CO2       unit.MassFlow
	Heat      unit.Power // mean of the day
	Given     unit.Mass  // CO2 since pitching
}

// Knockout is the cooling of one brew on one mains temperature.
type Knockout struct {
	Mains    unit.Temperature
	Coolant  unit.Temperature // what stage 1 really runs on
	Total    unit.Energy      // cast to pitch
	Stage1To unit.Temperature
	Stage1   CoolingDuty
	Stage2   *StageTwo     // nil where stage 1 reaches the pitching temperature
	Reaches  bool          // the chosen stages reach the pitching temperature
	Shortest unit.TempDiff // wort above coolant at the cold end of stage 1
	Ratio    unit.Ratio    // water on wort
	Time     unit.Duration // knock-out, longer than planned where the exchanger is small
	HotWater unit.Volume   // hot liquor won
	Surplus  unit.Volume   // beyond one brew's hot liquor
	Refill   unit.Energy   // to chill the cold liquor of one brew from the mains again; 0 without
}

// StageTwo is the load on chilled liquor or glycol.
type StageTwo struct {
	From, To unit.Temperature
	Heat     unit.Energy
	Power    unit.Power
	Chilled  unit.Mass        // liquor from ChilledIn to ChilledOut that buffers it
	Out      unit.Temperature // of the chilled liquor, at most 2 K below the wort
	UA       unit.Conductance // that stage 2 needs
}

// Totals is the year.
type Totals struct {
	Brews, Batches, Bags             int
	BrewsWeek, BrewsPeak             unit.Number
	Wort, Packaged, Asked            unit.Volume
	Malt, WetGrain, CO2, Hops, Yeast unit.Mass
	BrewingLiquor, Water             unit.Volume
	PureAlcohol                      unit.Volume
	Heat                             unit.Energy          // heat-up and boil into the wort, as planned
	Energy                           unit.Energy          // with hot liquor, at the source
	EnergyPerHL                      unit.EnergyPerVolume // on packaged beer
	WaterPerHL                       unit.Ratio           // on packaged beer
	BrewhouseCapacity                unit.Volume          // packaged beer in a year
	CellarCapacity                   unit.Volume
}

// TankClass is a size class of tanks with the average formula and the real overlap.
type TankClass struct {
	Name      string
	Bright    bool
	Dedicated string
	Batches   int
	TankDays  int
	Tanks     int         // by the average formula
	Gross     unit.Volume // least
	UtilMean  unit.Ratio
	UtilPeak  unit.Ratio
	Overlap   int // most batches at a time when each starts on its day
	Needed    int // tanks with which no batch of the schedule is late
}

// TankPlan is one tank over the year.
type TankPlan struct {
	Tank     Tank
	Bright   bool
	Spans    []Span
	Fill     unit.Volume // largest working volume
	Brim     unit.Volume // gross
	Days     int         // taken in the year
	Util     unit.Ratio  // of Year.TankDays
	UtilPeak unit.Ratio  // in the busiest 13 weeks
}

// Span is a bar of the tank schedule: [Start, End) in days.
type Span struct {
	Start, End int
	Batch      int
	Stage      string // ferment, mature, cold, wait, turn, bright
}

// Batch is one dated batch.
type Batch struct {
	Beer       int   // index into Beers
	Number     int   // of this beer, from 1
	Brews      []int // day of each brew
	Asked      int   // day the sales ask for
	Start      int   // fermenter filled
	FermentEnd int
	CrashStart int   // end of maturation
	Rack       int   // leaves the fermenter
	Free       int   // fermenter ready again
	BrightEnd  int   // bright tank ready again; equals Rack where there is none
	Fermenter  int   // index into Fermenters, -1 where none
	Brights    []int // index into Brights
	Wort       unit.Volume
	Racked     unit.Volume
	TankWait   int // days waited for a fermenter
	BrewWait   int // days waited for a brew day
	BrightWait int // days waited in the fermenter for a bright tank
}

// Late is how many days the batch starts after the sales ask for it.
func (b Batch) Late() int { return b.Start - b.Asked }

// Week is one week of the plan.
type Week struct {
	Number                        int // from 1
	Closed                        bool
	Brews                         int
	Wort                          unit.Volume
	Packaged                      unit.Volume
	Malt, Grain, CO2, Hops, Yeast unit.Mass
	Bags                          int
	Fermenters                    int // most taken on a day
	Brights                       int
	Crashing                      int // most tanks cooling down on a day
	Water                         unit.Volume
	Energy                        unit.Energy
}

// Bottleneck names what limits first.
type Bottleneck struct {
	Name  string // brew days, fermenters FV20, bright tanks BBT20, brew length
	Words string
	Full  unit.Ratio
	// Ranked lists all limits, fullest first.
	Ranked []Limit
}

// Limit is one thing that fills up as the brewery grows.
type Limit struct {
	Name string
	Full unit.Ratio // in the peak
}

// Growth is what a larger year would need.
type Growth struct {
	By        unit.Ratio
	Packaged  unit.Volume
	Brews     int
	BrewsPeak unit.Number
	Fits      bool // brew days, fermenters and bright tanks as they are
	Classes   []GrowthClass
	Words     string
}

// GrowthClass is the tanks of a class in a larger year.
type GrowthClass struct {
	Name  string
	Now   int
	Needs int
}
