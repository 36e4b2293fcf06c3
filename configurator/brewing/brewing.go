// Package brewing answers whether a brewhouse and a cellar make the beer a client
// wants to sell: volumes and losses at every step, malt, liquor and heat of a brew,
// wort cooling, fermentation, and a dated schedule of the batches on the tanks.
//
// Begin with Size. Without a chosen brewhouse and tanks it proposes both; with them
// it assigns every beer to tanks that fit and lays the batches out over a year.
// Rules then say what fails and what would mend it.
//
// Every volume is named with its state: hot in the kettle (100 °C), cold (20 °C) in
// the fermenter, racked, packaged. The brew length is cold wort delivered to the
// fermenter by one brew.
//
// Left out: recipes, water chemistry, duty amounts, filtration and bottling lines.
package brewing

import (
	"time"

	"tunwright/catalog/unit"
)

// Input is what must be known to plan. Only Beers and Year.Weeks are mandatory:
// zero fields take the default named beside them, and Result.Assumptions lists each
// default taken.
type Input struct {
	Beers    []Beer
	Year     Year
	Practice Practice

	// Brewhouse is the chosen one; a zero BrewLength lets Size propose one of Lengths.
	Brewhouse Brewhouse
	// Lengths are the brew lengths that can be bought; nil takes 2, 3, 5, 8, 10, 12, 15, 20, 25, 30 hL.
	Lengths []unit.Volume
	// Fermenters and Brights are the chosen tanks; both nil lets Size propose them.
	// Where no fermenter has the class of a beer, Size keeps the smallest for it.
	// Among the brights, tanks of class "serving" serve beers of Package "tank".
	Fermenters []Tank
	Brights    []Tank

	Water    Water
	Cooler   Cooler
	Handling Handling
	// Country decides the duty thresholds: "GB", "IE"; others have none.
	Country string
	// HeatAllowed is the heat that supply or boiler leaves for kettle and hot-liquor
	// tank together; nil leaves the check to the electrical discipline.
	HeatAllowed *unit.Power

	// Alternatives that remedies may try; nil offers none.
	FermenterOptions []Tank
	BrightOptions    []Tank
	BrewhouseOptions []Brewhouse
}

// Beer is one beer of the brief.
type Beer struct {
	Name   string // unlike that of any other beer
	Kind   Kind
	Yearly unit.Volume // packaged, sold in a year
	OE, AE unit.Plato
	// BrewsPerTank is the number of brews that fill one fermenter; 0 lets Size choose.
	BrewsPerTank int
	// Class names the dedicated tanks the beer must use; "" takes the kind's (only
	// mixed-ferment sour has one). "common" forces the common tanks.
	Class   string
	Package string // cask, keg, bottle, can, tank; "" is keg
	// Container is the size of cask, keg, bottle or can; 0 takes 50 L (40.9 L cask).
	Container unit.Volume
	// Natural says that the beer is carbonated by closing the tank.
	Natural bool

	// All below: nil takes the value of the kind of beer.
	Pitch, Ferment, Cold                                    *unit.Temperature
	FermentDays, MatureDays, ColdDays, TurnDays, BrightDays *unit.Duration
	Headspace, FermenterLoss                                *unit.Ratio
	CO2                                                     *unit.Carbonation
	// KettleDays is how long the kettle is held before the boil; nil takes the kind's
	// (2 days for a kettle sour). 0 says that the wort sours in a tank of its own.
	KettleDays *unit.Duration
	// Efficiency on laboratory extract for this beer; nil takes Practice.Efficiency.
	Efficiency *unit.Ratio
	// Hops in kg for each hL of cold wort; nil takes the kind's.
	Hops *unit.Density
}

// Year is how the client wants to work.
type Year struct {
	Weeks        int           // brewing weeks in a year, mandatory
	PeakFactor   unit.Ratio    // busiest week over the mean week; 0 takes 1.25
	BrewsPerWeek unit.Ratio    // most brews in a peak week, may be 3.5; 0 takes BrewDays·BrewsPerDay
	BrewsPerDay  int           // most brews in a day; 0 takes 1
	BrewDays     int           // days of the week on which is brewed, from Monday; 0 takes 5
	TankDays     unit.Duration // days a year a tank is in use; 0 takes 350
	FillLimit    unit.Ratio    // most of the tank-days that may be planned; 0 takes 0.90
	PeakWeek     int           // 1 to 52; 0 takes 28 (July)
	// Growth is what the client wants room for beyond the sales planned; 0 takes 10 %.
	Growth unit.Ratio
	// LateLimit is how late a batch may start after the sales ask for it; 0 takes 7 days.
	LateLimit unit.Duration
	// First is the Monday that day 0 of the plan falls on; the zero time gives an undated plan.
	First time.Time
	// DayLength is the longest brew day the client accepts; 0 takes 10 h.
	DayLength unit.Duration
}

// Practice holds the working figures of the brewhouse. Zero and nil take the default.
type Practice struct {
	Contraction   unit.Ratio          // cold volume of one hot volume; 0 takes the density of water at 100 °C, 0.9601
	TrubLoss      *unit.Ratio         // of cold wort in the kettle; 0.03
	BrightLoss    *unit.Ratio         // of beer racked; 0.02
	PackLoss      *unit.Ratio         // of beer packaged; 0.02
	Evaporation   unit.Ratio          // planned, of the cast volume in an hour; 0.06
	BoilTime      unit.Duration       // 60 min
	KettleSpace   unit.Ratio          // headspace of the kettle, of its gross volume; 0 takes the kind of beer
	BrightSpace   unit.Ratio          // headspace of bright tanks, of gross; 0.10
	LeastSpace    unit.Ratio          // least headspace of a fermenter, of gross, where the beer does not say; 0.20
	LabExtract    unit.Ratio          // of malt as it is; 0.785
	MaltMoisture  *unit.Ratio         // 0.04
	Efficiency    unit.Ratio          // on laboratory extract; 0.88
	GrainMoisture unit.Ratio          // of wet spent grain; 0.78
	MashRatio     unit.MashRatio      // 2.7 L/kg
	MashRest      unit.Temperature    // 66 °C
	Grist         unit.Temperature    // 15 °C
	LauterOut     unit.Temperature    // wort into the kettle; 74 °C
	Cast          unit.Temperature    // wort into the cooler; 96 °C
	LiquorTemp    unit.Temperature    // hot-liquor tank; 78 °C
	TunFreeboard  unit.Ratio          // above the mash, of gross; 0.12
	MaxLoading    unit.MassPerArea    // 165 kg/m²
	MinBed        unit.Length         // 0.15 m
	FermentHeat   unit.SpecificEnergy // 586.6 kJ/kg of extract
	WaterUse      unit.Ratio          // water for each volume of cold wort; 7
	LeastFill     unit.Ratio          // least fill of a fermenter, of gross; 0.35
	Room          unit.Temperature    // brewhouse; 20 °C
	BagMass       unit.Mass           // 25 kg
	// CIPShare is the volume of one cleaning solution against the tank's gross volume; 0.05.
	CIPShare unit.Ratio
	// CrashTime is the time from fermenting to cold; 24 h.
	CrashTime unit.Duration
}

// Brewhouse is the chosen brewhouse. Nil is unknown: the rule that needs it says so.
type Brewhouse struct {
	Code       string
	BrewLength unit.Volume // cold wort to the fermenter

	KettleGross *unit.Volume
	KettleLeast *unit.Volume // volume that covers elements or jacket
	TunGross    *unit.Volume // vessel that holds the mash
	LauterArea  *unit.Area
	MaxLoading  *unit.MassPerArea // nil takes Practice.MaxLoading
	MinBed      *unit.Length      // nil takes Practice.MinBed
	LiquorTank  *unit.Volume      // hot-liquor tank, usable volume
	LiquorHeat  *unit.Power       // heat of the hot-liquor tank
	ColdLiquor  *unit.Volume      // cold-liquor tank, usable; nil where there is none
	// Interlock says that the hot-liquor heater is locked out while the kettle heats.
	Interlock  bool
	Kettle     *HeatSource
	KettleMass unit.Mass // empty kettle; 0 takes 25 kg for each hL of gross volume
	// MashVessel … WhirlpoolVessel name the vessel that does each duty; equal names
	// share a vessel. Empty is three vessels: tun (mash, lauter), kettle, whirlpool.
	MashVessel, LauterVessel, KettleVessel, WhirlpoolVessel string
}

// Tank is a fermenter, bright tank or serving tank.
type Tank struct {
	Tag      string
	Code     string // product
	Gross    unit.Volume
	Pressure *unit.GaugePressure // rated; nil is unknown
	Jacket   bool
	Class    string // dedicated class; "" is common
}

// Water is the mains water. Nil is unknown.
type Water struct {
	Winter *unit.Temperature
	Summer *unit.Temperature
}

// Cooler is the wort cooler.
type Cooler struct {
	Stages                int               // 1 or 2; 0 takes 1
	Approach              unit.TempDiff     // wort above cold water after stage 1; 0 takes 3 K
	WaterOut              unit.Temperature  // hot liquor won; 0 takes 75 °C
	Time                  unit.Duration     // knock-out; 0 takes 45 min
	UA                    *unit.Conductance // of stage 1; nil is unknown, Size gives what is needed
	UA2                   *unit.Conductance // of stage 2; nil is unknown
	ChilledIn, ChilledOut unit.Temperature  // liquor of stage 2; zero takes 3 and 16 °C
	// ColdLiquor says that stage 1 runs on the cold-liquor tank at ChilledIn.
	ColdLiquor bool
}

// Handling is how bags go up and grain goes down.
type Handling struct {
	UpperFloor bool         // goods must be lifted to the brewery
	LiftLoad   *unit.Mass   // rated load of the lift; nil is unknown
	Stairs     bool         // bags are carried on stairs
	Hopper     *unit.Length // tip height of the mill hopper; nil is unknown
	Bin        unit.Volume  // spent-grain bin; 0 takes 240 L
	Trolley    unit.Mass    // 0 takes 40 kg
	Person     unit.Mass    // who goes with the load; 0 takes 90 kg
}
