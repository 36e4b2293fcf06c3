// Package catalog holds what the firm sells: products by class with the data a
// discipline needs to judge them — sizes standing and packed, masses, feet,
// electrical loads, connections, vessels, rating tables. It knows no rule and no
// price; prices are a book of their own, keyed by the product code.
//
// Begin with Embedded, or Open for a folder; Overlay lays a firm's own folder over
// another catalogue.
package catalog

import (
	"slices"

	"tunwright/catalog/unit"
)

// Class is the kind of a product; it decides which data the product must carry.
type Class string

const (
	ClassBrewhouse  Class = "brewhouse"
	ClassLiquorTank Class = "liquor-tank" // hot or cold liquor
	ClassFermenter  Class = "fermenter"
	ClassBrightTank Class = "bright-tank" // bright or serving
	ClassChiller    Class = "chiller"
	ClassBuffer     Class = "coolant-buffer"
	ClassWortCooler Class = "wort-cooler"
	ClassPump       Class = "pump"
	ClassPanel      Class = "control-panel"
	ClassCanopy     Class = "extraction-canopy"
	ClassCondenser  Class = "vapour-condenser"
	ClassSteam      Class = "steam-generator"
	ClassMill       Class = "mill"
	ClassCIP        Class = "cip-set"
	ClassKegWasher  Class = "keg-washer"
	ClassCompressor Class = "air-compressor"
	ClassGasAlarm   Class = "gas-alarm"
	ClassFan        Class = "extract-fan" // low-level extract for carbon dioxide
	ClassFitting    Class = "fitting"
	ClassPlate      Class = "spreading-plate"
	ClassService    Class = "service"
)

// Product is one thing the firm sells.
type Product struct {
	Code    string `yaml:"code,required" doc:"the order code, such as FV-10"`
	Class   Class  `yaml:"class,required" enum:"brewhouse|liquor-tank|fermenter|bright-tank|chiller|coolant-buffer|wort-cooler|pump|control-panel|extraction-canopy|vapour-condenser|steam-generator|mill|cip-set|keg-washer|air-compressor|gas-alarm|extract-fan|fitting|spreading-plate|service"`
	Name    string `yaml:"name,required" doc:"the name on a quotation"`
	Summary string `yaml:"summary,required" doc:"one or two sentences for the client"`
	// LeadTime runs from order to leaving the works.
	LeadTime unit.Duration `yaml:"lead_time_days,omitempty" range:"0..400" doc:"calendar days from order to leaving the works"`
	Needs    []string      `yaml:"needs" doc:"classes without which it cannot work, such as steam-generator"`
	Usual    []Usual       `yaml:"usual" doc:"the jobs it is usually sold with; a proposal for a new enquiry begins with these"`
	Bodies   []Body        `yaml:"bodies" doc:"the pieces that stand on the floor and pass the doors"`
	Loads    []Load        `yaml:"loads" doc:"electrical loads"`
	Connects []Connection  `yaml:"connections" doc:"what must be brought to it or led away"`

	Brewhouse  *Brewhouse  `yaml:"brewhouse"`
	Chiller    *Chiller    `yaml:"chiller"`
	WortCooler *WortCooler `yaml:"wort_cooler"`
	Steam      *Steam      `yaml:"steam"`
	Extract    *Extract    `yaml:"extract"`
	Panel      *Panel      `yaml:"panel"`
	Condenser  *Condenser  `yaml:"condenser"`
	GasAlarm   *GasAlarm   `yaml:"gas_alarm"`
	Fan        *Fan        `yaml:"fan"`
	Pump       *Pump       `yaml:"pump"`
	Mill       *Mill       `yaml:"mill"`
	Plate      *Plate      `yaml:"plate"`
	Service    *Service    `yaml:"service"`
}

// TagStem is what the tags of such items begin with, as in FV1.
func (p *Product) TagStem() string {
	for i := range p.Bodies {
		switch v := p.Bodies[i].Vessel; {
		case v == nil:
		case p.Class == ClassLiquorTank && slices.Contains(v.Duties, DutyColdLiquor):
			return "CLT"
		case p.Class == ClassBrightTank && slices.Contains(v.Duties, DutyServing):
			return "ST"
		}
	}
	return tagStems[p.Class]
}

var tagStems = map[Class]string{
	ClassBrewhouse: "BH", ClassLiquorTank: "HLT", ClassFermenter: "FV", ClassBrightTank: "BT", ClassChiller: "CH", ClassBuffer: "GB",
	ClassWortCooler: "WC", ClassPump: "PU", ClassPanel: "CP", ClassCanopy: "EX", ClassCondenser: "VC", ClassSteam: "SG", ClassMill: "ML",
	ClassCIP: "CIP", ClassKegWasher: "KW", ClassCompressor: "AC", ClassGasAlarm: "GA", ClassFan: "EF", ClassFitting: "FT", ClassPlate: "SP", ClassService: "SV",
}

// Usual is a kind of job that the firm usually sells a product with. It is the firm's
// own practice, for things that no calculation sizes: panels, cleaning sets, fittings,
// days on site.
type Usual struct {
	From unit.Volume `yaml:"from_hl,omitempty" range:"0..60" doc:"shortest brew it goes with"`
	To   unit.Volume `yaml:"to_hl,omitempty" range:"0..60" doc:"longest brew it goes with; left out, any"`
	When []string    `yaml:"when" doc:"what must hold as well: electric, steam, gas, kegs, crane, closed-road, off-street-level, suspended-floor, or a country as GB"`
	Per  string      `yaml:"per,omitempty" enum:"job|jacketed-tank|coolant-run-m|glycol-l|loading-m|piece" doc:"what it is counted by; left out, one for the job"`
	Each int         `yaml:"each,omitempty" range:"1..1000" doc:"how many of these one of it does"`
	Plus int         `yaml:"plus,omitempty" range:"0..100" doc:"how many more than that"`
}

// Body is one piece of a product that stands on the floor and has to get there.
type Body struct {
	Part string `yaml:"part,omitempty" doc:"which part of the product, such as kettle; empty where the product is one piece"`
	// Standing size over everything, cladding and fittings included.
	Length unit.Length `yaml:"length_mm,required" range:"50..15000"`
	Width  unit.Length `yaml:"width_mm,required" range:"50..5000"`
	Height unit.Length `yaml:"height_mm,required" range:"10..9000"`
	Round  bool        `yaml:"round,omitempty" doc:"the plan is a circle of diameter length_mm"`

	Empty     unit.Mass  `yaml:"empty_kg,required" range:"0.1..20000"`
	MassBasis string     `yaml:"mass_basis,required" enum:"maker|estimated" doc:"weighed by the maker, or worked out from geometry"`
	Tolerance unit.Ratio `yaml:"mass_tolerance_pct,omitempty" range:"0..30" doc:"how far the mass may be off"`

	Packed []Pack   `yaml:"packed,required" doc:"the transport pieces it comes in"`
	Parts  []Part   `yaml:"demountable" doc:"what can be taken off for the way in"`
	Feet   *Feet    `yaml:"feet" doc:"how it stands; without it the whole base bears"`
	Vessel *Vessel  `yaml:"vessel" doc:"where the piece holds liquid"`
	Space  Clearing `yaml:"clearance" doc:"room needed around it for work and service"`
	Wall   bool     `yaml:"wall_mounted,omitempty" doc:"it hangs on a wall or from the ceiling and asks nothing of the floor"`
	Drain  bool     `yaml:"needs_drain,omitempty"`
}

// Pack is one transport piece as it comes off the lorry.
type Pack struct {
	Name   string      `yaml:"name,required"`
	Length unit.Length `yaml:"length_mm,required" range:"50..15000"`
	Width  unit.Length `yaml:"width_mm,required" range:"50..5000"`
	Height unit.Length `yaml:"height_mm,required" range:"10..9000"`
	Mass   unit.Mass   `yaml:"mass_kg,required" range:"0.1..20000" doc:"with packing"`
	Lies   bool        `yaml:"lies,omitempty" doc:"it travels on its side: its length is its height when it stands"`
	Crate  unit.Length `yaml:"packing_height_mm,omitempty" range:"0..1000" doc:"height of skid or pallet that comes off before the way in"`
}

// Part can be taken off a body, which then becomes smaller and lighter.
type Part struct {
	Name   string        `yaml:"name,required"`
	Mass   unit.Mass     `yaml:"mass_kg,required" range:"0.1..5000"`
	Height unit.Length   `yaml:"saves_height_mm,omitempty" range:"0..3000"`
	Width  unit.Length   `yaml:"saves_width_mm,omitempty" range:"0..3000"`
	Time   unit.Duration `yaml:"refit_h,omitempty" range:"0..40" doc:"fitter's hours to take off and put back"`
}

// Feet say how a body stands.
type Feet struct {
	Count  int         `yaml:"count,required" range:"3..12"`
	Circle unit.Length `yaml:"circle_mm,omitempty" range:"50..5000" doc:"bolt circle diameter of feet on a circle"`
	A      unit.Length `yaml:"a_mm,omitempty" range:"50..15000" doc:"between the outermost feet along the length, for feet on a rectangle"`
	B      unit.Length `yaml:"b_mm,omitempty" range:"50..5000" doc:"between the outermost feet along the width, for feet on a rectangle"`
	Pad    unit.Length `yaml:"pad_mm,required" range:"20..500" doc:"diameter of the foot plate"`
}

// Clearing is the room around a body.
type Clearing struct {
	Front unit.Length `yaml:"front_mm,omitempty" range:"0..5000"`
	Side  unit.Length `yaml:"side_mm,omitempty" range:"0..3000"`
	Back  unit.Length `yaml:"back_mm,omitempty" range:"0..3000"`
	Above unit.Length `yaml:"above_mm,omitempty" range:"0..3000"`
}

// Duty is what a vessel is used for.
type Duty string

const (
	DutyMash       Duty = "mash"
	DutyLauter     Duty = "lauter"
	DutyKettle     Duty = "kettle"
	DutyWhirlpool  Duty = "whirlpool"
	DutyHotLiquor  Duty = "hot-liquor"
	DutyColdLiquor Duty = "cold-liquor"
	DutyFerment    Duty = "ferment"
	DutyBright     Duty = "bright"
	DutyServing    Duty = "serving"
	DutyCoolant    Duty = "coolant"
	DutyCleaning   Duty = "cleaning"
)

// Vessel is a body that holds liquid.
type Vessel struct {
	Duties  []Duty      `yaml:"duties,required" doc:"mash, lauter, kettle, whirlpool, hot-liquor, cold-liquor, ferment, bright, serving, coolant, cleaning"`
	Gross   unit.Volume `yaml:"gross_l,required" range:"5..60000" doc:"brim-full volume, heads and cone included"`
	Nominal unit.Volume `yaml:"nominal_l,required" range:"5..60000" doc:"working volume it is sold by"`

	Diameter unit.Length `yaml:"inside_diameter_mm,required" range:"200..4000"`
	Cylinder unit.Length `yaml:"cylinder_mm,required" range:"100..8000" doc:"height of the straight shell"`
	Bottom   string      `yaml:"bottom,required" enum:"cone|dished|flat|sloped"`
	Cone     unit.Angle  `yaml:"cone_included_deg,omitempty" range:"30..150"`
	Top      string      `yaml:"top,required" enum:"dished|cone|flat|open"`
	Shell    unit.Length `yaml:"shell_mm,required" range:"1..20" doc:"wall thickness"`

	JacketBody unit.Area          `yaml:"jacket_body_m2,omitempty" range:"0..100"`
	JacketCone unit.Area          `yaml:"jacket_cone_m2,omitempty" range:"0..50"`
	JacketPS   unit.GaugePressure `yaml:"jacket_pressure_bar_g,omitempty" range:"0..16"`
	// JacketMedium decides under which table of the pressure equipment law the jacket falls.
	JacketMedium string             `yaml:"jacket_medium,omitempty" enum:"coolant|steam" doc:"what flows in the jacket"`
	JacketVol    unit.Volume        `yaml:"jacket_l,omitempty" range:"0..2000"`
	JacketDrop   unit.PressureDiff  `yaml:"jacket_drop_kpa,omitempty" range:"0..300" doc:"pressure lost at the rated flow"`
	JacketFlow   unit.VolumeFlow    `yaml:"jacket_flow_l_min,omitempty" range:"0..1000" doc:"rated coolant flow"`
	Insulation   unit.Length        `yaml:"insulation_mm,omitempty" range:"0..300"`
	Pressure     unit.GaugePressure `yaml:"rated_pressure_bar_g,omitempty" range:"0..16" doc:"highest allowed pressure PS; absent for an open vessel"`
	VacuumValve  bool               `yaml:"vacuum_valve,omitempty"`
	ReliefValve  bool               `yaml:"relief_valve,omitempty"`
	ReliefArea   unit.Area          `yaml:"relief_area_mm2,omitempty" range:"0..20000" doc:"flow area of the relief valve"`
	VacuumArea   unit.Area          `yaml:"vacuum_area_mm2,omitempty" range:"0..50000" doc:"flow area of the vacuum valve"`
	Declared     bool               `yaml:"declaration_of_conformity,omitempty" doc:"the maker declares conformity of the pressure equipment"`
	Certified    bool               `yaml:"body_certificate,omitempty" doc:"with the certificate of a notified or approved body"`
	LauterArea   unit.Area          `yaml:"lauter_area_m2,omitempty" range:"0..30" doc:"false bottom"`
}

// Load is one electrical load.
type Load struct {
	Name   string       `yaml:"name,required"`
	Kind   string       `yaml:"kind,required" enum:"element|motor|compressor|fan|electronics|lighting|socket"`
	Power  unit.Power   `yaml:"power_kw,required" range:"0.005..500" doc:"electrical input at full load, not the shaft power of a motor"`
	Phases int          `yaml:"phases,required" range:"1..3"`
	Factor unit.Ratio   `yaml:"power_factor_ratio,required" range:"0.1..1"`
	Start  unit.Ratio   `yaml:"starting_current_ratio,omitempty" range:"1..12" doc:"starting over rated current of a motor switched straight on"`
	Drive  string       `yaml:"control,required" enum:"contactor|staged|solid-state|direct|soft-start|variable-speed|none" doc:"how it is switched"`
	Stages int          `yaml:"stages,omitempty" range:"0..12"`
	Group  string       `yaml:"interlock_group,omitempty" doc:"loads of one group never run together"`
	States []string     `yaml:"states" doc:"steps of the brew day it runs in: strike, mash, boil, hlt, cool, cip, night, ferment, pack, all"`
	Leak   unit.Current `yaml:"leakage_ma,omitempty" range:"0..100" doc:"protective conductor current"`
	IP     string       `yaml:"ip,omitempty" doc:"ingress protection of the terminal, such as IP55"`
	Height unit.Length  `yaml:"terminal_height_mm,omitempty" range:"0..6000"`
}

// Connection is a service brought to a product or led away from it.
type Connection struct {
	Service  string             `yaml:"service,required" enum:"cold-water|hot-liquor|chilled-liquor|steam|condensate|coolant-flow|coolant-return|drain|co2|compressed-air|gas|exhaust|flue|data"`
	Size     string             `yaml:"size,required" doc:"nominal size or fitting, such as DN 40 or DIN 11851 DN 50"`
	Flow     unit.VolumeFlow    `yaml:"flow_l_min,omitempty" range:"0..5000"`
	AirFlow  unit.VolumeFlow    `yaml:"air_flow_m3_h,omitempty" range:"0..50000"`
	Steam    unit.MassFlow      `yaml:"steam_kg_h,omitempty" range:"0..5000"`
	Gas      unit.Power         `yaml:"gas_input_kw,omitempty" range:"0..3000" doc:"heat input of a gas burner, on the net calorific value"`
	Pressure unit.GaugePressure `yaml:"pressure_bar_g,omitempty" range:"0..16" doc:"lowest pressure needed, or highest given off"`
	Temp     *unit.Temperature  `yaml:"temperature_c" range:"-30..200"`
	Height   unit.Length        `yaml:"height_mm,omitempty" range:"0..9000" doc:"above the floor"`
	Note     string             `yaml:"note,omitempty"`
}

// Brewhouse is what a brewer judges a brewhouse by.
type Brewhouse struct {
	Length  unit.Volume `yaml:"brew_length_hl,required" range:"1..60" doc:"cold wort into the fermenter from one brew"`
	Heat    string      `yaml:"heat,required" enum:"electric|steam|gas"`
	Vessels int         `yaml:"vessels,required" range:"1..5"`
	// KettleHeat is what the heating gives off at its rating: element power, heat of
	// the steam condensed in the jacket, or burner input. Times Efficiency it is the
	// heat into the vessel, from which the loss to the room (LossUA) still goes off.
	KettleHeat  unit.Power       `yaml:"kettle_heat_kw,required" range:"1..500" doc:"element power, heat of the steam condensed, or burner input"`
	Efficiency  unit.Ratio       `yaml:"heat_efficiency_pct,required" range:"30..100" doc:"share of the kettle heat that reaches the wort, before the loss to the room"`
	MinKettle   unit.Volume      `yaml:"min_kettle_l,omitempty" range:"0..6000" doc:"least wort that covers the heating surface"`
	LossUA      unit.Conductance `yaml:"kettle_loss_w_k,omitempty" range:"0..2000" doc:"heat lost by the kettle per kelvin over the room"`
	LiquorHeat  unit.Power       `yaml:"liquor_heat_kw,omitempty" range:"0..500" doc:"heat put to its own hot liquor vessel"`
	KettleSteel unit.Mass        `yaml:"kettle_steel_kg,omitempty" range:"0..5000" doc:"steel warmed with the wort"`
	MaxBed      unit.MassPerArea `yaml:"max_bed_kg_m2,required" range:"50..500" doc:"heaviest grist the lauter floor takes"`
	BrewYield   unit.Ratio       `yaml:"brewhouse_efficiency_pct,required" range:"50..100" doc:"extract got over laboratory extract of the malt"`
	RunOff      unit.Duration    `yaml:"run_off_min,required" range:"20..400"`
}

// Chiller is a coolant chiller with its rating table.
type Chiller struct {
	Ratings     []Rating          `yaml:"ratings,required"`
	Glycol      unit.Ratio        `yaml:"rated_glycol_mass_pct,required" range:"0..60" doc:"glycol by mass the ratings hold for; 0 for water"`
	Stages      int               `yaml:"capacity_stages,required" range:"1..8" doc:"steps the output is switched in; 1 is on or off"`
	MinLeaving  unit.Temperature  `yaml:"min_leaving_c,required" range:"-20..15"`
	MaxEntering unit.Temperature  `yaml:"max_entering_c,required" range:"0..40" doc:"warmest coolant it takes back"`
	MinFlow     unit.VolumeFlow   `yaml:"min_flow_m3_h,required" range:"0.05..100"`
	MaxFlow     unit.VolumeFlow   `yaml:"max_flow_m3_h,required" range:"0.05..200"`
	PumpHead    unit.PressureDiff `yaml:"pump_head_bar,omitempty" range:"0..10" doc:"head of the built-in pump at the rated flow"`
	ShutOff     unit.PressureDiff `yaml:"pump_shut_off_bar,omitempty" range:"0..15" doc:"head of the built-in pump against a closed valve"`
	Tank        unit.Volume       `yaml:"tank_l,omitempty" range:"0..5000" doc:"built-in coolant tank"`
	Refrigerant string            `yaml:"refrigerant,required" doc:"ISO 817 designation, such as R290"`
	Charge      unit.Mass         `yaml:"charge_kg,required" range:"0.05..100"`
	Sound       unit.SoundLevel   `yaml:"sound_power_dba,required" range:"30..110"`
	AirFlow     unit.VolumeFlow   `yaml:"air_flow_m3_h,required" range:"100..100000"`
	Outdoor     bool              `yaml:"outdoor,omitempty" doc:"built to stand in the open"`
}

// Rating is one point of a chiller's rating table.
type Rating struct {
	Leaving  unit.Temperature `yaml:"leaving_c,required" range:"-20..20"`
	Ambient  unit.Temperature `yaml:"ambient_c,required" range:"-20..55"`
	Capacity unit.Power       `yaml:"capacity_kw,required" range:"0.1..500"`
	Input    unit.Power       `yaml:"input_kw,required" range:"0.05..300"`
}

// WortCooler is a plate exchanger, of one stage or two.
type WortCooler struct {
	Stages  int              `yaml:"stages,required" range:"1..2"`
	UA1     unit.Conductance `yaml:"ua_stage1_kw_k,required" range:"0.1..200"`
	UA2     unit.Conductance `yaml:"ua_stage2_kw_k,omitempty" range:"0..200"`
	MaxWort unit.VolumeFlow  `yaml:"max_wort_hl_h,required" range:"1..300"`
}

// Steam is a steam generator.
type Steam struct {
	Output   unit.MassFlow      `yaml:"output_kg_h,required" range:"5..5000"`
	Pressure unit.GaugePressure `yaml:"pressure_bar_g,required" range:"0.1..16"`
	Fuel     string             `yaml:"fuel,required" enum:"electric|gas|oil"`
	HeatIn   unit.Power         `yaml:"heat_input_kw,required" range:"1..3000"`
	Water    unit.Volume        `yaml:"water_l,required" range:"1..10000" doc:"water it holds, for its pressure equipment category"`

	ReliefValve bool `yaml:"relief_valve,omitempty" doc:"the maker fits a safety valve for its full output"`
	Declared    bool `yaml:"declaration_of_conformity,omitempty" doc:"the maker declares conformity of the pressure equipment"`
	Certified   bool `yaml:"body_certificate,omitempty" doc:"with the certificate of a notified or approved body"`
}

// Extract is a canopy or fan that carries steam out of the room.
type Extract struct {
	Length  unit.Length       `yaml:"length_mm,required" range:"300..6000"`
	Width   unit.Length       `yaml:"width_mm,required" range:"300..4000"`
	AirFlow unit.VolumeFlow   `yaml:"air_flow_m3_h,required" range:"50..30000"`
	Head    unit.PressureDiff `yaml:"external_pa,required" range:"10..2000"`
	Duct    unit.Length       `yaml:"duct_mm,required" range:"80..1200"`
	Sound   unit.SoundLevel   `yaml:"sound_power_dba,required" range:"30..110"`
}

// Condenser takes a kettle's vapour down in water instead of blowing it out.
type Condenser struct {
	Vapour unit.MassFlow   `yaml:"vapour_kg_h,required" range:"5..1000"`
	Water  unit.VolumeFlow `yaml:"cooling_water_l_min,required" range:"0.5..500"`
	Stack  bool            `yaml:"needs_no_stack,omitempty"`
}

// GasAlarm is a carbon dioxide alarm.
type GasAlarm struct {
	Detectors int  `yaml:"detectors,required" range:"1..32"`
	Outside   bool `yaml:"outside_display,omitempty" doc:"display and sounder outside the doors"`
	FanSwitch bool `yaml:"fan_failure_alarm,omitempty" doc:"loss of the fan's flow or of mains power raises the alarm"`
}

// Fan is an extract fan that draws at floor level.
type Fan struct {
	AirFlow unit.VolumeFlow   `yaml:"air_flow_m3_h,required" range:"50..30000"`
	Head    unit.PressureDiff `yaml:"external_pa,required" range:"10..2000"`
	Duct    unit.Length       `yaml:"duct_mm,required" range:"80..1200"`
	Sound   unit.SoundLevel   `yaml:"sound_power_dba,required" range:"30..110"`
}

// Pump is a pump on its own.
type Pump struct {
	For     string            `yaml:"liquid,required" enum:"wort|liquor|coolant|cleaning|beer" doc:"what it is built to carry"`
	Flow    unit.VolumeFlow   `yaml:"flow_m3_h,required" range:"0.1..200"`
	Head    unit.PressureDiff `yaml:"head_bar,required" range:"0.05..20" doc:"at the rated flow"`
	ShutOff unit.PressureDiff `yaml:"shut_off_bar,required" range:"0.05..25" doc:"head against a closed valve"`
}

// Panel is a control panel.
type Panel struct {
	Serves string       `yaml:"serves,required" enum:"brewhouse|cellar"`
	Supply unit.Current `yaml:"supply_a,omitempty" range:"0..1000" doc:"largest current per phase it passes on to the loads; absent where it feeds none"`
	Loops  int          `yaml:"temperature_loops,required" range:"1..60"`
	// LoadLimit tells that it is hard-wired to shed heating before a set current is
	// passed; an instruction to the brewer is no such thing.
	Ramps     bool `yaml:"ramps_set_points,omitempty" doc:"lowers set points by a ramp, so that valves do not all stand open"`
	LoadLimit bool `yaml:"load_limiting,omitempty" doc:"hard-wired to shed heating before a set supply current is passed"`
}

// Mill grinds malt.
type Mill struct {
	Rate   unit.MassFlow `yaml:"rate_kg_h,required" range:"20..5000"`
	Hopper unit.Mass     `yaml:"hopper_kg,required" range:"5..2000"`
	Tip    unit.Length   `yaml:"tip_height_mm,required" range:"300..3000" doc:"height a bag is tipped at"`
}

// Plate spreads a foot's load.
type Plate struct {
	A         unit.Length `yaml:"a_mm,required" range:"100..2000"`
	B         unit.Length `yaml:"b_mm,required" range:"100..2000"`
	Thickness unit.Length `yaml:"thickness_mm,required" range:"5..60"`
}

// Service is work rather than goods.
type Service struct {
	Kind        string `yaml:"kind,required" enum:"freight|installation|rigging|crane|commissioning|training|survey|road-closure|spares|warranty"`
	Per         string `yaml:"per,required" enum:"each|day|load|tank"`
	Provisional bool   `yaml:"provisional,omitempty" doc:"a sum set aside, settled against the true cost"`
}
