package electrical

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Result is the answer to an Input, with the rows the electrician's papers print.
type Result struct {
	Supply    SupplyFigures
	States    []StateDemand // in the order of the day
	Binding   Binding       // the state and the line that decide
	Balance   Balance
	Circuits  []Circuit // in the order of the loads
	Feeder    *Feeder   // origin to the brewery's board; nil where its length is unknown
	Energy    Energy
	Cases     []Case // the verdict under other assumptions
	Actions   []Action
	Connected unit.Power
	// Factor is maximum demand over connected load ("MD / connected").
	Factor unit.Ratio
	Trace  trace.Trace
}

// SupplyFigures is the supply as reckoned with.
type SupplyFigures struct {
	Lines        int // current-carrying lines
	Phases       int
	Voltage      unit.Voltage // between lines
	PhaseVoltage unit.Voltage // to neutral
	Split        bool
	PhasesKnown  bool
	// Available is the fuse less the existing load of each line; nil where either is
	// unknown.
	Available *[3]unit.Current
	Existing  [3]unit.Current // zero where unknown
	Power     *unit.ApparentPower
	BoardZe   *unit.Impedance // earth fault loop at the brewery's board
}

// StateDemand is what flows in one state of the brew day.
type StateDemand struct {
	Key, Title string
	Hours      unit.Duration
	Start      unit.Duration // time of day
	Line       [3]unit.Current
	Max        unit.Current
	Worst      int // line 1..3 with the greatest share of what it may carry
	Neutral    unit.Current
	Power      unit.Power // at the peak shares
	Apparent   unit.ApparentPower
	Mean       unit.Power // mean over the state, for energy
	Imbalance  unit.Ratio
	// Margin is what is left on the worst line; nil where the supply is unknown.
	Margin *unit.Current
	// Shed is the share of element power that the load-limiting control lets run;
	// 1 where it sheds nothing.
	Shed unit.Ratio
	Runs []Running
}

// Running is one load in a state.
type Running struct {
	Load int // index into the Input's loads
	Tag  string
	Peak unit.Ratio // share of the rated current at any moment
	Mean unit.Ratio // mean share of the rated power
}

// Binding names the state and line that decide.
type Binding struct {
	State  int // index into States
	Line   int // 1..3
	Demand unit.Current
	Margin *unit.Current
}

// Balance is the assignment of single-phase loads to lines.
type Balance struct {
	Line []int // by load: 1, 2, 3; 0 where a load takes several lines
	// Worst is what the worst line carries in the worst state, with the existing load
	// where Supply.PerLine gives it; no assignment is lower by more than Slack where
	// Proven.
	Worst   unit.Current
	Bound   unit.Current // nothing lower is possible
	Proven  bool
	Slack   unit.Current
	Nodes   int
	AllOn   unit.Current // worst line when all loads run together
	Totals  unit.Current // worst line in the worst state had totals been balanced instead
	Neutral unit.Current // greatest neutral current of the states
}

// Circuit is one row of the circuit schedule.
type Circuit struct {
	Load            int
	Tag, Name, Item string
	Lines           string // such as L1L2L3
	Phases          int
	Power           unit.Power // electrical input
	PF, Eta         unit.Ratio
	Ib              unit.Current
	StartCurrent    unit.Current
	Starter         Starter
	Continuous      bool // three hours or more
	States          string
	Group           string
	Device          Device
	RCD             RCD
	Cable           Cable
	Drop            unit.Voltage // with the cable hot and the worst power factor: safe
	DropShare       unit.Ratio
	DropRefined     unit.Voltage // with the conductor's own temperature and the power factor
	DropTotal       unit.Ratio   // refined, from the origin; with the feeder where it is known
	DropLimit       unit.Ratio
	R1R2            unit.Impedance
	Zs              *unit.Impedance // nil where Ze is unknown
	ZsMax           unit.Impedance
	StartDip        unit.Ratio // of the voltage at the terminals at the moment of starting
	Isolator        Isolator
	Connection      string
	IP              string // protection asked for: IEC 60529 code, or NEMA 250 type by the NEC
	Leakage         unit.Current
	LeakageGiven    bool
	// Governed names the check that decided the conductor.
	Governed string
	// Problem says why the circuit could not be completed within the tables.
	Problem  string
	Estimate bool // a figure awaits the rating plate
	Assumed  bool // length, laying or ambient is assumed
}

// Device is the protective device suggested.
type Device struct {
	Standard string // such as IEC 60898
	Curve    Curve  // empty for other devices
	Rating   unit.Current
	Breaking unit.Current // least breaking capacity; zero where the fault current is unknown
	// Loading is Ib over In; Derated tells that it is above the board's factor.
	Loading unit.Ratio
	Derated bool
}

// RCD is the residual current device suggested.
type RCD struct {
	Needed    bool // a rule asks for it; otherwise it is advice
	Type      string
	Residual  unit.Current
	Leakage   unit.Current
	Allowed   unit.Current // 30 % of the residual current
	Protects  bool         // it is what disconnects on an earth fault
	Reasoning string
}

// Cable is the conductor suggested.
type Cable struct {
	Type    string
	Method  Method
	Section unit.CrossSection
	Label   string // such as 10 mm² or 8 AWG
	Need    unit.Current
	It      unit.Current // tabulated
	Iz      unit.Current // as laid
	Ca, Cg  unit.Ratio
	CPC     unit.CrossSection
	CPCText string
	Length  unit.Length
	Ambient unit.Temperature
	Grouped int
}

// Isolator is the local means of isolation.
type Isolator struct {
	Rating   unit.Current
	Poles    int
	IP       string
	Lockable bool
}

// Feeder is the cable from the origin to the brewery's board.
type Feeder struct {
	Device    Device
	Cable     Cable
	Drop      unit.Voltage
	DropShare unit.Ratio
	R1R2      unit.Impedance
	Problem   string
}

// Energy is what a brew day takes.
type Energy struct {
	Day       unit.Energy // all states
	Brew      unit.Energy
	PerVolume *unit.EnergyPerVolume
	States    []unit.Energy
	Loads     []unit.Energy // by load
	Bands     []BandEnergy
	HalfHours []HalfHour // 48 from midnight
	Peak      unit.Power // twice the largest half-hour energy
	PeakKVA   unit.ApparentPower
	PeakStart unit.Duration
}

// BandEnergy is the energy taken in one tariff band.
type BandEnergy struct {
	Name   string
	Energy unit.Energy
}

// HalfHour is one window of the half-hour register.
type HalfHour struct {
	Start  unit.Duration
	Energy unit.Energy
	Mean   unit.Power
	State  int // that runs at its start; -1 for none
}

// Case is the verdict under another assumption.
type Case struct {
	Key       string // stated, smaller-link, high-voltage, existing, no-interlocks, derated
	Name      string
	Demand    unit.Current
	Available *unit.Current
	Margin    *unit.Current
	Passes    bool // false where unknown
}

// Action is something the network operator or the metering must hear of.
type Action struct {
	Key   string // apply, ct-metering, half-hourly, large, unbalance, disturbing
	Words string
}
