package air

import "tunwright/catalog/unit"

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

// SteamResult is the extract schedule of one kettle.
type SteamResult struct {
	Evaporation unit.MassFlow
	Share       unit.Ratio      // of the kettle's volume each hour; 0 where the volume is unknown
	Vapour      unit.VolumeFlow // pure vapour at 100 °C

	Capture    unit.VolumeFlow // by face velocity over the canopy's plan
	Convection unit.VolumeFlow // by thermal convection; 0 where the plan area is unknown
	NoFog      unit.VolumeFlow // at the fan, for room air
	DryDuct    unit.VolumeFlow // at the fan for at most 80 % humidity, for room air; 0: none does
	Moisture   []MoistureRow
	Required   unit.VolumeFlow // the largest of capture, convection and no fog; 0: no flow avoids fog
	Governs    string
	Flow       unit.VolumeFlow // of the canopy, or the required flow where none is chosen
	Stream     Mixed           // what goes up the duct at that flow
	StreamNote string

	CanopyLength, CanopyWidth unit.Length // chosen, or proposed from the kettle's plan with its overhang
	Overhang                  unit.Length
	Duct, Outlet              unit.Length // as chosen or proposed
	DuctAt, OutletAt          unit.Velocity
	DuctProposed              unit.Length       // for 6 to 9 m/s; 0 where no single duct of the series does
	OutletProposed            unit.Length       // for 12 to 15 m/s
	DuctLoss                  unit.PressureDiff // duct with its bends
	FanNeed                   unit.PressureDiff // with canopy and discharge cone

	MakeUp        unit.VolumeFlow // air that must come in, for canopy and other fans
	MakeUpSupply  unit.VolumeFlow // at most by fan
	OpeningsNeed  unit.Area       // free area for the whole at 1 m/s
	MakeUpHeat    unit.Power      // to warm the mechanical share in winter
	MakeUpTo      unit.Temperature
	RoomHeat      unit.Power // surfaces and motors
	RoomHeatRows  []Line
	Condenser     CondenserResult
	ResidualFlow  unit.VolumeFlow // extract still wanted with a condenser
	SteamFreeList []string        // what a site without steam in the room needs
	Schedule      []Line          // the extract schedule, in print order
}

// LimitTime is the time to a limit with the fan off.
type LimitTime struct {
	Limit   Limit
	Steady  unit.Duration // at the peak gas rate held on
	Week    unit.Duration // shortest within the week as planned; 0 where not reached
	AtHour  int           // hour of the week at which that fan trip would begin
	Reached bool          // within the week as planned
	Never   bool          // no gas at all
}

// GasCase is a room with its blow-offs either into the room or piped outdoors.
type GasCase struct {
	Name        string
	Week        unit.Mass // into the room in the week
	Peak        unit.MassFlow
	PeakHour    int
	PeakFlow    unit.VolumeFlow
	NeedPerfect unit.VolumeFlow // ventilation at K = 1
	Need        unit.VolumeFlow // ventilation at the mixing factor
	NeedChanges unit.AirChangeRate
	AtNeed      unit.VolumeFraction // mixed room average with Need running
	Steady      unit.VolumeFraction // with the fan there is, mixed room average
	SteadyNear  unit.VolumeFraction // with the fan there is, mixing factor applied
	HighestNear unit.VolumeFraction // highest within the week, mixing factor applied
	FanOff      []LimitTime
	PurgeTime   unit.Duration // 30 000 to 5 000 ppm with Need running
}

// DetectorRow is one place for a detector.
type DetectorRow struct {
	Place    string
	Count    int
	HeadLow  unit.Length
	HeadHigh unit.Length
	Words    string
}

// GasResult is the carbon dioxide sheet of one room.
type GasResult struct {
	Space       int // index of its room in Input.Gas
	Name        string
	Volume      unit.Volume
	Zone        unit.Volume // air in which a sudden loss counts
	Batches     []BatchRow
	Hours       []HourRow // the busiest week, as the blow-offs are arranged
	Produced    unit.Mass // in the week
	Open, Piped GasCase   // both are printed
	Chosen      GasCase   // as the blow-offs are arranged
	Releases    []ReleaseRow
	Largest     int // index of the largest indoor loss, -1 where there is none
	Detectors   []DetectorRow
	NeedsAlarm  bool
	OxygenRows  []OxygenRow
	OxygenBlind unit.VolumeFraction // carbon dioxide at which a 19.5 % oxygen alarm first speaks
	Schedule    []Line
}

// OxygenRow shows why an oxygen monitor misses carbon dioxide.
type OxygenRow struct {
	CO2    unit.VolumeFraction
	Oxygen unit.VolumeFraction
}
