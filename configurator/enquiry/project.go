package enquiry

import (
	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
)

// Project is one enquiry with the equipment chosen for it.
type Project struct {
	Title   string    `yaml:"title,required" doc:"a name for the job"`
	Client  Party     `yaml:"client,required"`
	Author  string    `yaml:"prepared_by,required" doc:"who makes the quotation"`
	Date    Date      `yaml:"date,required" doc:"the day of the enquiry, as 2026-11-25"`
	Opening *Date     `yaml:"opening" doc:"the day the client wants to sell the first beer"`
	Brief   Brief     `yaml:"brief,required"`
	Site    Site      `yaml:"site,required"`
	Chosen  Selection `yaml:"equipment"`
}

// Party is a person or a firm.
type Party struct {
	Name    string   `yaml:"name,required"`
	Contact string   `yaml:"contact,omitempty"`
	Address []string `yaml:"address"`
	Email   string   `yaml:"email,omitempty"`
	Phone   string   `yaml:"phone,omitempty"`
}

// Brief is what the client wants to sell and how they want to work.
type Brief struct {
	Beers       []Beer        `yaml:"beers,required"`
	Weeks       int           `yaml:"weeks,required" range:"1..53" doc:"brewing weeks in a year"`
	BrewsWeek   float64       `yaml:"brews_per_week,required" range:"0.2..40" doc:"most brews the client will do in a peak week"`
	BrewsDay    int           `yaml:"brews_per_day,omitempty" range:"1..6" doc:"most brews in a day"`
	Peak        unit.Ratio    `yaml:"peak_factor,required" range:"1..3" doc:"busiest week over the mean week"`
	Growth      unit.Ratio    `yaml:"growth_pct,omitempty" range:"0..400"`
	DayStart    unit.Duration `yaml:"day_starts_h,omitempty" range:"0..23"`
	PeopleCount int           `yaml:"people,omitempty" range:"0..50" doc:"people at work in the brewery"`
	CrashPerDay int           `yaml:"crash_tanks_at_once,omitempty" range:"1..20" doc:"tanks cooled down at the same time"`
}

// Beer is one product of the client. What is left out is taken by kind of beer and
// printed as an assumption.
type Beer struct {
	Name    string            `yaml:"name,required"`
	Kind    string            `yaml:"kind,required" enum:"cask-ale|keg-ale|ipa|wheat|lager|strong|kettle-sour|mixed-sour"`
	Volume  Fact[unit.Volume] `yaml:"yearly_hl,required" range:"0.5..100000" doc:"sold in a year, packaged volume" ask:"the client"`
	OE      unit.Plato        `yaml:"original_extract_plato,required" range:"4..30"`
	AE      unit.Plato        `yaml:"final_extract_plato,required" range:"-1..12" doc:"apparent extract of the finished beer"`
	Brews   int               `yaml:"brews_per_tank,omitempty" range:"1..4" doc:"brews that fill one fermenter"`
	Package string            `yaml:"package,required" enum:"cask|keg|bottle|can|tank"`
	Keg     unit.Volume       `yaml:"keg_l,omitempty" range:"5..100"`
	Pitch   *unit.Temperature `yaml:"pitch_c" range:"2..35"`
	Ferment *unit.Duration    `yaml:"fermentation_days" range:"1..200"`
	Mature  *unit.Duration    `yaml:"maturation_days" range:"0..400"`
	Cold    *unit.Duration    `yaml:"cold_days" range:"0..200"`
	CO2     *unit.Carbonation `yaml:"carbonation_g_l" range:"1..12"`
	Natural bool              `yaml:"natural_carbonation,omitempty" doc:"carbonated by closing the tank at the end of fermentation"`
	Grist   []string          `yaml:"ingredients" doc:"what goes in, as allergens are asked: barley malt, wheat, oats, rye, lactose, isinglass, nuts"`
}

// Site is the building.
type Site struct {
	Name     string            `yaml:"name,required"`
	Address  []string          `yaml:"address"`
	Country  string            `yaml:"country,required" enum:"GB|IE|DE|US"`
	City     bool              `yaml:"city_centre,omitempty"`
	Listed   Fact[bool]        `yaml:"listed_building" doc:"whether the building is listed or otherwise protected" ask:"the local planning authority or the owner"`
	Level    int               `yaml:"storey,omitempty" range:"-5..40" doc:"0 is the ground floor"`
	Rise     Fact[unit.Length] `yaml:"floor_above_street_m" range:"-20..150" doc:"floor of the room above the street" ask:"measure on site, or the owner's section drawing"`
	Existing string            `yaml:"existing_use,omitempty" doc:"what the room was used for"`

	Room    Room                     `yaml:"room,required"`
	Floor   Floor                    `yaml:"floor,required"`
	Routes  []Route                  `yaml:"routes" doc:"ways in, the preferred one first"`
	Supply  Supply                   `yaml:"supply"`
	Water   Water                    `yaml:"water"`
	Drains  Drains                   `yaml:"drainage"`
	Air     Air                      `yaml:"ventilation"`
	Climate Climate                  `yaml:"climate"`
	Chiller Place                    `yaml:"chiller_place"`
	Gas     Fact[bool]               `yaml:"gas_supply" doc:"whether a gas supply of use is in the building" ask:"the owner or the gas network operator"`
	Low     Fact[bool]               `yaml:"low_points" doc:"whether a pit, a cellar hatch or an open stair leads down from the room" ask:"look on site: heavy gas runs there"`
	Crane   Fact[bool]               `yaml:"crane_access" doc:"whether a crane can stand by the building" ask:"walk the street with the crane firm"`
	Road    Fact[bool]               `yaml:"crane_on_road" doc:"whether the crane stands on a road that must be closed" ask:"walk the street with the crane firm"`
	CO2     Fact[unit.GaugePressure] `yaml:"co2_line_bar_g" range:"0..60" doc:"highest pressure of the gas line to the tanks when its regulator fails open" ask:"the gas supplier, or the plate of the line's relief valve"`
	CO2Flow Fact[unit.MassFlow]      `yaml:"co2_regulator_kg_h" range:"0.1..2000" doc:"gas that the tanks' line passes when its regulator fails open" ask:"the gas supplier, from the regulator's flow coefficient"`
	Store   GasStore                 `yaml:"co2_store" doc:"bottled or bulk carbon dioxide"`
	Clean   Cleaning                 `yaml:"cleaning" doc:"how tanks are cleaned"`
	Quiet   Fact[unit.SoundLevel]    `yaml:"background_night_dba" range:"15..90" doc:"background sound at the neighbour at night" ask:"an acoustician measures it"`
	Scheme  Fact[bool]               `yaml:"written_scheme_planned" doc:"whether a written scheme of examination for pressure equipment is in the plan" ask:"the client's insurer or a competent person"`
	Term    string                   `yaml:"delivery_term,omitempty" enum:"EXW|FCA|CPT|CIP|DAP|DPU|DDP|FAS|FOB|CFR|CIF" doc:"rule of Incoterms 2020 at the site's door"`
}

// Room is the room the brewery goes into. Coordinates are metres from its south-west
// corner, x to the east along the plan's lower edge, y to the north.
type Room struct {
	Outline []Point           `yaml:"outline_m,required" doc:"corners in order, as [x, y]"`
	Height  Fact[unit.Length] `yaml:"clear_height_mm,required" range:"1500..20000" doc:"floor to the lowest beam, pipe or lamp" ask:"measure on site with a laser at the lowest point"`
	Columns []Column          `yaml:"columns"`
	Doors   []Door            `yaml:"doors"`
	Drains  []Drain           `yaml:"drains"`
	Zones   []Zone            `yaml:"keep_clear" doc:"ground that must stay free: escape ways, switchboards"`
}

// Point is a place on the plan.
type Point struct{ X, Y unit.Length }

// Column stands in the room.
type Column struct {
	At    Point       `yaml:"at_m,required"`
	Width unit.Length `yaml:"width_mm,required" range:"50..2000"`
	Depth unit.Length `yaml:"depth_mm,omitempty" range:"50..2000"`
}

// Door is an opening in the room's wall.
type Door struct {
	Name   string            `yaml:"name,required"`
	At     Point             `yaml:"at_m,required" doc:"middle of the opening"`
	Width  Fact[unit.Length] `yaml:"width_mm,required" range:"400..8000" doc:"clear width of the door" ask:"measure on site between the frames"`
	Swing  bool              `yaml:"swings_in,omitempty"`
	Escape bool              `yaml:"escape,omitempty"`
}

// Drain is a gully in the floor.
type Drain struct {
	At   Point                 `yaml:"at_m,required"`
	To   *Point                `yaml:"to_m" doc:"the other end, where it is a channel"`
	Flow Fact[unit.VolumeFlow] `yaml:"flow_l_s" range:"0.1..50" doc:"flow the gully takes" ask:"test on site with a hose and a bucket, or the gully's data sheet"`
}

// Zone is ground that must stay free.
type Zone struct {
	Name string `yaml:"name,required"`
	From Point  `yaml:"from_m,required"`
	To   Point  `yaml:"to_m,required"`
}

// Floor is what carries the tanks.
type Floor struct {
	Kind     string              `yaml:"kind,required" enum:"suspended|ground-bearing|unknown" doc:"whether the floor spans over a room, cellar or void or lies on the ground; storey alone does not say"`
	Given    string              `yaml:"figures_from,omitempty" enum:"engineer|drawing|landlord|client" doc:"who stands behind the allowable loads"`
	Top      string              `yaml:"top_layer,omitempty" enum:"resin|screed|timber|concrete" doc:"what the feet stand on"`
	Area     Fact[unit.AreaLoad] `yaml:"area_load_kn_m2" range:"0.5..100" doc:"allowable imposed area load" ask:"a chartered structural engineer"`
	Point    Fact[unit.Force]    `yaml:"point_load_kn" range:"0.5..500" doc:"allowable concentrated load" ask:"a chartered structural engineer"`
	People   unit.AreaLoad       `yaml:"people_kn_m2,omitempty" range:"0..7.5" doc:"people and goods beside the tanks"`
	Layers   []Layer             `yaml:"build_up" doc:"what is laid on the floor for this job"`
	Bays     []Bay               `yaml:"bays"`
	Members  []Member            `yaml:"members" doc:"beams and joists, from the engineer's or the owner's drawing"`
	Engineer Fact[string]        `yaml:"engineer" doc:"the structural engineer who gave or will give the figures" ask:"the owner or the client"`
}

// Layer is a layer of added floor.
type Layer struct {
	Name      string          `yaml:"name,required"`
	Thickness unit.Length     `yaml:"thickness_mm,required" range:"1..500" doc:"mean thickness"`
	Weight    unit.UnitWeight `yaml:"weight_kn_m3,required" range:"0.1..80"`
	Removed   bool            `yaml:"removed,omitempty" doc:"taken off rather than added"`
}

// Bay is a field of floor between members.
type Bay struct {
	Name string              `yaml:"name,required"`
	From Point               `yaml:"from_m,required"`
	To   Point               `yaml:"to_m,required"`
	Area Fact[unit.AreaLoad] `yaml:"area_load_kn_m2" range:"0.5..100" doc:"allowable imposed area load of the bay" ask:"a chartered structural engineer"`
}

// Member is a beam or a joist line.
type Member struct {
	Name      string              `yaml:"name,required"`
	From      Point               `yaml:"from_m,required"`
	To        Point               `yaml:"to_m,required"`
	Tributary unit.Length         `yaml:"tributary_m,required" range:"0.1..20" doc:"width of floor it carries"`
	Primary   bool                `yaml:"primary,omitempty" doc:"carries the ends of other members and no floor of its own"`
	Moment    Fact[unit.Moment]   `yaml:"moment_knm" range:"0.1..10000" doc:"allowable moment of imposed load" ask:"a chartered structural engineer"`
	Shear     Fact[unit.Force]    `yaml:"shear_kn" range:"0.1..10000" doc:"allowable shear of imposed load" ask:"a chartered structural engineer"`
	Area      Fact[unit.AreaLoad] `yaml:"area_load_kn_m2" range:"0.5..100" doc:"allowable imposed area load on the member" ask:"a chartered structural engineer"`
}

// Route is one way in, as an ordered list of steps.
type Route struct {
	Name  string `yaml:"name,required"`
	Steps []Step `yaml:"steps,required"`
}

// Step is one obstacle on the way in.
type Step struct {
	Name      string            `yaml:"name,required"`
	Kind      string            `yaml:"kind,required" enum:"door|corridor|corner|stairs|lift|hatch|taking-in-door|upend"`
	Width     Fact[unit.Length] `yaml:"width_mm" range:"300..20000" doc:"clear width" ask:"measure on site"`
	Height    Fact[unit.Length] `yaml:"height_mm" range:"300..20000" doc:"clear height" ask:"measure on site"`
	Width2    Fact[unit.Length] `yaml:"width_out_mm" range:"300..20000" doc:"second leg of a corner, or landing of stairs" ask:"measure on site"`
	Length    Fact[unit.Length] `yaml:"length_mm" range:"300..200000" doc:"length of the way" ask:"measure on site"`
	Depth     Fact[unit.Length] `yaml:"car_depth_mm" range:"300..10000" doc:"clear depth of the lift car" ask:"measure on site"`
	CarWidth  Fact[unit.Length] `yaml:"car_width_mm" range:"300..10000" doc:"clear width of the lift car" ask:"measure on site"`
	CarHeight Fact[unit.Length] `yaml:"car_height_mm" range:"300..10000" doc:"clear height of the lift car" ask:"measure on site"`
	Rated     Fact[unit.Mass]   `yaml:"rated_kg" range:"20..100000" doc:"rated load of lift, hoist or crane" ask:"read the plate in the lift or on the hoist"`
	Hoist     bool              `yaml:"own_hoist,omitempty" doc:"a taking-in door or hatch has a hoist of the building, so that no crane is needed"`
	FloorLoad Fact[unit.Force]  `yaml:"wheel_load_kn" range:"0.1..500" doc:"allowable wheel load on the way" ask:"the owner or the structural engineer"`
	Level     Fact[unit.Length] `yaml:"sill_above_street_m" range:"-20..150" doc:"sill above the street" ask:"measure on site"`
}

// Supply is the electrical supply.
type Supply struct {
	Phases   Fact[int]                `yaml:"phases" range:"1..3" enum:"1|3" doc:"phases of the supply" ask:"read the cut-out and the meter"`
	Voltage  Fact[unit.Voltage]       `yaml:"line_voltage_v" range:"100..700" doc:"between lines, or line to neutral on one phase" ask:"the network operator"`
	Fuse     Fact[unit.Current]       `yaml:"fuse_a" range:"16..4000" doc:"rating of the supply's cut-out fuse or main breaker" ask:"the network operator, or the mark on the cut-out"`
	Existing Fact[unit.Current]       `yaml:"existing_load_a" range:"0..4000" doc:"highest existing load of a phase" ask:"a logged week of the main board, or the supplier's half-hour data"`
	Earthing Fact[string]             `yaml:"earthing" doc:"TN-S, TN-C-S or TT" ask:"a licensed electrician"`
	Ze       Fact[unit.Impedance]     `yaml:"ze_ohm" range:"0.01..500" doc:"earth fault loop impedance at the supply" ask:"a licensed electrician measures it"`
	Fault    Fact[unit.Current]       `yaml:"fault_current_a" range:"500..200000" doc:"prospective fault current at the supply" ask:"a licensed electrician measures it"`
	Board    Fact[unit.Length]        `yaml:"board_distance_m" range:"0..500" doc:"cable way from the supply to the brewery's board" ask:"measure the cable way on site"`
	BoardAt  *Point                   `yaml:"board_at_m"`
	Tariff   Fact[string]             `yaml:"tariff" doc:"tariff of the supply" ask:"the client's last bill"`
	Agreed   Fact[unit.ApparentPower] `yaml:"agreed_kva" range:"1..5000" doc:"capacity agreed with the network operator" ask:"the supply agreement, or the network operator"`
	Rules    string                   `yaml:"rule_set,omitempty" enum:"IEC|NEC"`
	Offers   []unit.Current           `yaml:"offers_a" doc:"larger supplies the network operator has named"`
}

// Water is the water supply.
type Water struct {
	Flow     Fact[unit.VolumeFlow]    `yaml:"flow_l_min" range:"1..5000" doc:"flow of the water main" ask:"time a bucket at full bore"`
	Pressure Fact[unit.GaugePressure] `yaml:"pressure_bar_g" range:"0.2..16" doc:"pressure of the water main at the point of entry" ask:"a gauge on the main"`
	Hardness Fact[unit.Concentration] `yaml:"hardness_mg_l" range:"0..1000" doc:"hardness as calcium carbonate" ask:"the water company's report for the postcode"`
	Winter   Fact[unit.Temperature]   `yaml:"winter_c" range:"0..30" doc:"temperature of the mains water in winter" ask:"the water company, or a thermometer in February"`
	Summer   Fact[unit.Temperature]   `yaml:"summer_c" range:"2..40" doc:"temperature of the mains water in summer" ask:"the water company, or a thermometer in August"`
}

// Drains is where waste water goes.
type Drains struct {
	Pipe    Fact[unit.Length] `yaml:"pipe_mm" range:"30..600" doc:"bore of the drain" ask:"look in the manhole"`
	Consent Fact[bool]        `yaml:"effluent_consent" doc:"whether a consent to discharge trade effluent is held" ask:"the water company"`
	Below   Fact[bool]        `yaml:"pipes_below_reachable" doc:"whether pipes can run below the floor" ask:"the owner, and a look at the ceiling below"`
	Fall    Fact[unit.Ratio]  `yaml:"fall_ratio" range:"0..0.1" doc:"fall laid in the floor; 0.0125 is 1 in 80" ask:"the architect"`
	Depth   Fact[unit.Length] `yaml:"floor_depth_mm" range:"0..600" doc:"build-up that may be laid for falls and channels" ask:"the architect and the structural engineer"`
	Yeast   string            `yaml:"yeast_goes_to,omitempty" enum:"drain|side-stream" doc:"where surplus yeast and trub go"`
	Grating string            `yaml:"grating_class,omitempty" enum:"K3|L15|R50|M125" doc:"load class of the gully gratings by EN 1253"`
}

// Air is where steam and CO2 go.
type Air struct {
	Extract Fact[unit.VolumeFlow]    `yaml:"extract_m3_h" range:"0..100000" doc:"air the present extract moves" ask:"the fan's plate or an anemometer"`
	Steam   Fact[bool]               `yaml:"steam_outlet" doc:"whether steam may leave through roof or wall" ask:"the owner and the planning authority"`
	Natural Fact[unit.AirChangeRate] `yaml:"air_changes_per_h" range:"0..20" doc:"air changes without a fan" ask:"a ventilation engineer"`
	Makeup  Fact[unit.Area]          `yaml:"make_up_openings_m2" range:"0..50" doc:"free area of louvres and openings for the air that an extract draws in" ask:"measure on site"`
	Outlet  Fact[unit.Length]        `yaml:"outlet_above_window_m" range:"-20..50" doc:"outlet of the extract above the nearest window that opens" ask:"measure on site"`
}

// Climate is the air outside and in the room.
type Climate struct {
	Summer Fact[unit.Temperature] `yaml:"summer_c" range:"10..55" doc:"design air at the chiller" ask:"the national climate data for the place"`
	Room   Fact[unit.Temperature] `yaml:"room_c" range:"0..45" doc:"temperature of the room in summer" ask:"a thermometer over a hot week"`
	Winter Fact[unit.Temperature] `yaml:"winter_c" range:"-30..20" doc:"coldest design air" ask:"the national climate data for the place"`
}

// GasStore is the carbon dioxide that is kept at the site.
type GasStore struct {
	Content  Fact[unit.Mass] `yaml:"content_kg" range:"0..20000" doc:"carbon dioxide in one cylinder or in the bulk vessel; 0 where none is kept" ask:"the client, or the gas supplier"`
	Count    int             `yaml:"count,omitempty" range:"0..100" doc:"cylinders kept, full or part full"`
	Outdoors Fact[bool]      `yaml:"outdoors" doc:"whether the gas is kept in the open air" ask:"look on site with the gas supplier"`
}

// Cleaning is how tanks are cleaned in place.
type Cleaning struct {
	CausticCO2 Fact[bool] `yaml:"caustic_under_co2" doc:"whether caustic goes into tanks that still hold carbon dioxide" ask:"the client's cleaning procedure"`
	Rinses     Fact[int]  `yaml:"rinse_steps" range:"1..6" doc:"rinses that step the temperature down after hot cleaning, the last one cold; 1 is cold water at once" ask:"the client's cleaning procedure"`
}

// Place is where the chiller stands.
type Place struct {
	Where     string            `yaml:"where,omitempty" enum:"roof|yard|inside"`
	Distance  Fact[unit.Length] `yaml:"pipe_run_m" range:"1..300" doc:"pipe way from the chiller to the first tank, one way" ask:"measure on site"`
	Rise      Fact[unit.Length] `yaml:"above_tanks_m" range:"-100..100" doc:"how far the chiller stands above the tanks" ask:"measure on site"`
	Neighbour Fact[unit.Length] `yaml:"neighbour_m" range:"0.5..1000" doc:"distance to the nearest window that is not the client's" ask:"measure on site"`
	Walled    Fact[bool]        `yaml:"walled_in" doc:"whether walls nearer than half their height stand around the chiller" ask:"look on site"`
	Openings  Fact[unit.Length] `yaml:"opening_m" range:"0..500" doc:"distance to the nearest drain, light well, cellar opening or air intake" ask:"measure on site"`
}

// Selection is the equipment chosen.
type Selection struct {
	Items []Item `yaml:"items,required"`
}

// Item is one product chosen, once.
type Item struct {
	Tag     string   `yaml:"tag,required" doc:"our mark for it, such as FV1"`
	Product string   `yaml:"product,required" doc:"the product code"`
	Count   int      `yaml:"count,omitempty" range:"1..500" doc:"how many, for things without a place of their own"`
	Places  []Placed `yaml:"places" doc:"where its pieces stand; left out, the first layout places them"`
	Option  string   `yaml:"option,omitempty" doc:"the name of the option group it belongs to"`

	Proposed *Proposal `yaml:"proposed" doc:"what was proposed for this tag, and why"`
}

// Proposal is a product that was proposed for an item. It stays when another is chosen,
// so that one can see what was departed from.
type Proposal struct {
	Product string `yaml:"product,required"`
	Why     string `yaml:"why,required"`
}

// Quantity is how many of it are bought.
func (i Item) Quantity() int { return max(i.Count, 1) }

// Placed is where one piece stands.
type Placed struct {
	Part string     `yaml:"part,omitempty"`
	At   Point      `yaml:"at_m,required" doc:"middle of the piece"`
	Turn unit.Angle `yaml:"turn_deg,omitempty" range:"-360..360"`
}

// Read reads a project from the text of its file.
func Read(file string, text []byte) (Project, error) {
	var p Project
	if err := strict.Decode(file, text, &p); err != nil {
		return Project{}, err
	}
	if problems := p.Validate(file); len(problems) > 0 {
		return Project{}, problems
	}
	return p, nil
}
