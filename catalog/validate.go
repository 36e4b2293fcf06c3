package catalog

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tunwright/catalog/unit"
)

// Fault is one way in which the data of a product do not agree with each other.
type Fault struct {
	Field     string // path below the product, such as "bodies[1].vessel.gross_l"
	Message   string
	WouldHelp string
}

func (f Fault) Error() string {
	return fmt.Sprintf("%s: %s; %s", f.Field, f.Message, f.WouldHelp)
}

// faults collects what is wrong while one product is gone through.
type faults []Fault

func (fs *faults) add(field, message, wouldHelp string) {
	*fs = append(*fs, Fault{Field: field, Message: message, WouldHelp: wouldHelp})
}

var (
	codePattern = regexp.MustCompile(`^[A-Z0-9][A-Z0-9.]*(-[A-Z0-9.]+)*$`)
	ipPattern   = regexp.MustCompile(`^IP[0-6X][0-9X]$`)
)

// longest code that still fits a column of a quotation.
const maxCode = 24

// Classes lists the kinds of product in the order a quotation goes through them.
func Classes() []Class {
	return []Class{
		ClassBrewhouse, ClassLiquorTank, ClassFermenter, ClassBrightTank, ClassChiller, ClassBuffer,
		ClassWortCooler, ClassPump, ClassPanel, ClassCanopy, ClassCondenser, ClassSteam, ClassMill,
		ClassCIP, ClassKegWasher, ClassCompressor, ClassGasAlarm, ClassFan, ClassFitting, ClassPlate, ClassService,
	}
}

// brewDayStates are the steps of the brew day a load can run in.
var brewDayStates = []string{"strike", "mash", "boil", "hlt", "cool", "cip", "night", "ferment", "pack", "all"}

// usualWhen are the conditions of Usual besides the length of a brew.
var usualWhen = []string{"electric", "steam", "gas", "kegs", "crane", "closed-road", "off-street-level", "suspended-floor", "GB", "IE", "DE", "US"}

var duties = []Duty{
	DutyMash, DutyLauter, DutyKettle, DutyWhirlpool, DutyHotLiquor, DutyColdLiquor,
	DutyFerment, DutyBright, DutyServing, DutyCoolant, DutyCleaning,
}

// Validate tells in which ways the fields of a product contradict each other or
// leave out what its class must carry. Ranges of single fields are checked on
// reading, by their tags.
func (p *Product) Validate() []Fault {
	var fs faults
	p.checkHead(&fs)
	p.checkClass(&fs)
	for i := range p.Usual {
		p.Usual[i].check(&fs, fmt.Sprintf("usual[%d]", i+1))
	}
	for i := range p.Bodies {
		p.Bodies[i].check(&fs, fmt.Sprintf("bodies[%d]", i+1))
	}
	for i := range p.Loads {
		p.Loads[i].check(&fs, fmt.Sprintf("loads[%d]", i+1))
	}
	for i := range p.Connects {
		p.Connects[i].check(&fs, fmt.Sprintf("connections[%d]", i+1))
	}
	return fs
}

func (u *Usual) check(fs *faults, at string) {
	if u.To > 0 && u.To < u.From {
		fs.add(at+".to_hl", fmt.Sprintf("%s is below from_hl, %s", u.To, u.From), "the longest brew is not shorter than the shortest")
	}
	for _, w := range u.When {
		if !slices.Contains(usualWhen, w) {
			fs.add(at+".when", fmt.Sprintf("%q is not known here", w), "write one of: "+strings.Join(usualWhen, ", "))
		}
	}
	if u.Each > 0 && (u.Per == "" || u.Per == "job") {
		fs.add(at+".each", "there is nothing to count", "say in per what it is counted by, or leave each out and use plus")
	}
}

func (p *Product) checkHead(fs *faults) {
	if !codePattern.MatchString(p.Code) || len(p.Code) > maxCode {
		fs.add("code", fmt.Sprintf("%q is not an order code", p.Code), fmt.Sprintf("use up to %d capitals, digits, points and dashes, such as FV-10-LOW", maxCode))
	}
	if strings.TrimSpace(p.Name) == "" {
		fs.add("name", "it is empty", "a client reads it on the quotation")
	}
	if strings.TrimSpace(p.Summary) == "" {
		fs.add("summary", "it is empty", "say in a sentence what it is")
	}
	for i, n := range p.Needs {
		if !slices.Contains(Classes(), Class(n)) {
			fs.add(fmt.Sprintf("needs[%d]", i+1), fmt.Sprintf("%q is not a class of product", n), "write one of: "+classNames())
		}
	}
}

func classNames() string {
	var names []string
	for _, c := range Classes() {
		names = append(names, string(c))
	}
	return strings.Join(names, ", ")
}

func (l *Load) check(fs *faults, at string) {
	turns := l.Kind == "motor" || l.Kind == "compressor" || l.Kind == "fan"
	if l.Start > 0 && !turns {
		fs.add(at+".starting_current_ratio", fmt.Sprintf("a load of kind %s has no starting current", l.Kind), "leave it out")
	}
	if turns && l.Drive == "direct" && l.Start == 0 {
		fs.add(at, "a motor switched straight on must state its starting current", "add starting_current_ratio, 6 to 8 for a three-phase motor")
	}
	if l.Kind == "element" && l.Factor < 0.98 {
		fs.add(at+".power_factor_ratio", fmt.Sprintf("%s is too low for an element", l.Factor), "an element is a plain resistance: write 1")
	}
	if l.Phases == 2 {
		fs.add(at+".phases", "a load has one phase or three", "write 1 or 3; two-phase loads are given as two loads of one phase")
	}
	if l.Drive == "staged" && l.Stages < 2 {
		fs.add(at, "a staged load must state how many stages it has", "add stages: 2 or more")
	}
	if l.IP != "" && !ipPattern.MatchString(l.IP) {
		fs.add(at+".ip", fmt.Sprintf("%q is not a protection code", l.IP), "write it as in IEC 60529, such as IP55")
	}
	if len(l.States) == 0 {
		fs.add(at, "it is not said when the load runs", "add states, some of: "+strings.Join(brewDayStates, ", "))
	}
	for i, s := range l.States {
		if !slices.Contains(brewDayStates, s) {
			fs.add(fmt.Sprintf("%s.states[%d]", at, i+1), fmt.Sprintf("%q is not a step of the brew day", s), "write some of: "+strings.Join(brewDayStates, ", "))
		}
	}
}

func (c *Connection) check(fs *faults, at string) {
	needs := func(ok bool, field string) {
		if !ok {
			fs.add(at, fmt.Sprintf("a connection for %s must state %s", c.Service, field), "add "+field)
		}
	}
	switch c.Service {
	case "coolant-flow", "cold-water":
		needs(c.Flow > 0, "flow_l_min")
	case "steam":
		needs(c.Steam > 0, "steam_kg_h")
		needs(c.Pressure > 0, "pressure_bar_g")
	case "gas":
		needs(c.Gas > 0, "gas_input_kw")
	case "compressed-air":
		needs(c.AirFlow > 0, "air_flow_m3_h")
		needs(c.Pressure > 0, "pressure_bar_g")
	case "co2":
		needs(c.Pressure > 0, "pressure_bar_g")
	}
}

// sumLoads adds the loads of one kind.
func (p *Product) sumLoads(kind string) unit.Power {
	var sum unit.Power
	for _, l := range p.Loads {
		if l.Kind == kind {
			sum += l.Power
		}
	}
	return sum
}

// connects tells whether a service is brought to the product.
func (p *Product) connects(service string) bool {
	return slices.ContainsFunc(p.Connects, func(c Connection) bool { return c.Service == service })
}
