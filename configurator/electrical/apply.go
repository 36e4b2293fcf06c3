package electrical

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Kinds of remedy, stable for those who apply them; beside each, its parameters.
const (
	StageLoads      = "stage-loads"       // load, cap: share of its power that may run
	InterlockLoads  = "interlock-loads"   // loads: two tags that never run together
	NightLiquor     = "night-liquor"      // load, duty: moved to the night
	LimitLoads      = "load-limit"        // limit: setting of a load-limiting control
	SolidStateLimit = "solid-state-limit" // limit, with solid-state control of the elements
	ManagedDay      = "managed-day"       // load, duty moved to the night, and limit
	OtherLine       = "other-line"        // loads: freed from the line they are tied to
	LargerSupply    = "larger-supply"     // phases, fuse
	OnePhase        = "one-phase"         // three-phase elements ordered for one phase; limit where one is needed
	PhaseConverter  = "phase-converter"   // efficiency for motors, elements as one-phase; limit where one is needed
	WireInterlock   = "wire-interlock"    // group
	UseSoftStart    = "soft-start"        // load
	UseDrive        = "variable-speed"    // load
	ShorterCable    = "shorter-cable"     // load, length
	ResidualTrip    = "residual-trip"     // load: a residual current device cuts the fault off
	NextDevice      = "next-device"       // load, device
	OtherPlace      = "other-place"       // load, height
	RatedVoltage    = "rated-voltage"     // load, voltage
	SplitLoad       = "split-load"        // load, circuits
	AgreeCapacity   = "agree-capacity"    // capacity
	StartEarlier    = "start-earlier"     // load, hours
	SpaceDevices    = "space-devices"     // free ways beside the breakers of elements
)

// Apply makes the change of a remedy to an Input. The rules try their remedies
// through it, so that what a caller applies is what was checked. A kind that is not
// listed above names an Alternative by its code.
func Apply(in Input, r rule.Remedy) (Input, error) {
	p := params(r.Params)
	load := slices.IndexFunc(in.Loads, func(l Load) bool { return l.Tag == p.text("load") })
	if load < 0 && p.text("load") != "" {
		return in, fmt.Errorf("remedy %s: there is no load %s", r.Kind, p.text("load"))
	}
	in.Loads = slices.Clone(in.Loads)
	switch r.Kind {
	case LimitLoads, SolidStateLimit, ManagedDay, NightLiquor, StageLoads, InterlockLoads, WireInterlock, OtherLine, StartEarlier:
		return applyDay(in, r.Kind, load, p), nil
	case LargerSupply, OnePhase, PhaseConverter, AgreeCapacity:
		return applySupply(in, r.Kind, p), nil
	case SpaceDevices:
		in.Install.Spaced = true
		return in, nil
	case SplitLoad:
		return split(in, load, int(p.number("circuits")+0.5)), nil
	case UseSoftStart, UseDrive, ShorterCable, ResidualTrip, NextDevice, OtherPlace, RatedVoltage:
		applyLoad(&in.Loads[load], r.Kind, p)
		return in, nil
	}
	for _, a := range in.Alternatives {
		if a.Code == p.text("code") {
			in.Loads, in.Alternatives = a.Loads, nil
			return in, nil
		}
	}
	return in, fmt.Errorf("remedy %s: there is no alternative %q", r.Kind, p.text("code"))
}

// params finds the figures of a remedy by name.
type params []rule.Param

func (p params) text(name string) string {
	for _, x := range p {
		if x.Name == name {
			return x.Text
		}
	}
	return ""
}

// number is the SI value of a figure; zero where it is missing.
func (p params) number(name string) float64 {
	for _, x := range p {
		if x.Name == name && x.Quantity != nil {
			return x.Quantity.SI()
		}
	}
	return 0
}

// applyDay changes who runs when.
func applyDay(in Input, kind string, load int, p params) Input {
	if kind == SolidStateLimit {
		for i := range in.Loads {
			if in.Loads[i].Kind == Element {
				in.Loads[i].Control = SolidState
			}
		}
	}
	switch kind {
	case NightLiquor, ManagedDay:
		duty, peak := unit.Fraction(p.number("duty")), unit.Fraction(1)
		in.Loads[load].Runs = []Run{{State: "night", Duty: &duty, Peak: &peak}}
	case StageLoads:
		in.Loads[load].Cap = new(unit.Fraction(p.number("cap")))
	case InterlockLoads:
		tags := strings.Split(p.text("loads"), ", ")
		for i := range in.Loads {
			if slices.Contains(tags, in.Loads[i].Tag) {
				in.Loads[i].Group = strings.Join(tags, "/")
			}
		}
	case WireInterlock:
		in.Interlocks = slices.Clone(in.Interlocks)
		for i := range in.Interlocks {
			if in.Interlocks[i].Group == p.text("group") {
				in.Interlocks[i].Manual = false
			}
		}
	case OtherLine:
		for i := range in.Loads {
			in.Loads[i].Line = 0
		}
	case StartEarlier:
		in.Day = longer(in, load, p.number("hours")/3600)
	}
	if limit := p.number("limit"); limit > 0 {
		in.Limit = new(unit.Amperes(limit))
	}
	return in
}

// longer lengthens the state in which a load does most by some hours at full power,
// at the cost of the night.
func longer(in Input, load int, hours float64) []DayState {
	day := slices.Clone(in.day())
	best, night := -1, -1
	for s := range day {
		if day[s].Key == "night" {
			night = s
			continue
		}
		if best < 0 || in.Loads[load].at(&day[s]).mean > in.Loads[load].at(&day[best]).mean {
			best = s
		}
	}
	if best < 0 {
		return day
	}
	if mean := in.Loads[load].at(&day[best]).mean; mean > 0 {
		more := unit.Hours(hours / mean)
		day[best].Hours += more
		if night >= 0 {
			day[night].Hours -= more
		}
	}
	return day
}

// applySupply changes the supply. An existing load of a supply with other phases
// stays on its one line.
func applySupply(in Input, kind string, p params) Input {
	s := &in.Supply
	switch kind {
	case OnePhase, PhaseConverter:
		if eta := p.number("efficiency"); eta > 0 {
			in.Converter = new(unit.Fraction(eta))
		}
		if limit := p.number("limit"); limit > 0 {
			in.Limit = new(unit.Amperes(limit))
		}
		for i := range in.Loads {
			if l := &in.Loads[i]; l.Kind == Element && l.Phases == 3 {
				l.Phases, l.Voltage = 1, nil
			}
		}
	case AgreeCapacity:
		s.Agreed = new(unit.VoltAmperes(p.number("capacity")))
	case LargerSupply:
		phases := int(p.number("phases") + 0.5)
		if s.Phases == nil || *s.Phases != phases {
			if e, known := s.existing(); known {
				s.PerLine = &[3]unit.Current{unit.Amperes(e[0])}
			}
			s.Voltage, s.PhaseVoltage = nil, nil
		}
		s.Phases, s.Fuse, s.FuseBasis, s.Agreed = &phases, new(unit.Amperes(p.number("fuse"))), ToBeAgreed, nil
	}
	return in
}

// applyLoad changes one load or its circuit.
func applyLoad(l *Load, kind string, p params) {
	switch kind {
	case UseSoftStart:
		l.Starter, l.StartMultiple, l.Curve = SoftStart, nil, CurveC
	case UseDrive:
		l.Starter, l.StartMultiple, l.Curve = VariableSpeed, nil, CurveC
	case ShorterCable:
		l.Length = new(unit.Metres(p.number("length")))
	case ResidualTrip:
		l.ResidualTrip = true
	case NextDevice:
		l.Device = new(unit.Amperes(p.number("device")))
	case OtherPlace:
		l.Height = new(unit.Metres(p.number("height")))
	case RatedVoltage:
		l.Voltage = new(unit.Volts(p.number("voltage")))
	}
}

// split divides a load among n circuits of its kind.
func split(in Input, load, n int) Input {
	if n < 2 {
		return in
	}
	l := in.Loads[load]
	part := l
	part.Power = unit.Watts(l.Power.W() / float64(n))
	part.Leakage, part.Heat, part.Device = nil, nil, nil
	if l.Leakage != nil {
		part.Leakage = new(unit.Amperes(l.Leakage.A() / float64(n)))
	}
	if l.Heat != nil {
		part.Heat = new(unit.Joules(l.Heat.J() / float64(n)))
	}
	if l.Stages > 1 {
		part.Stages = int(math.Ceil(float64(l.Stages) / float64(n)))
	}
	loads := slices.Delete(in.Loads, load, load+1)
	for k := n; k >= 1; k-- {
		part.Tag = l.Tag + "." + strconv.Itoa(k)
		loads = slices.Insert(loads, load, part)
	}
	in.Loads = loads
	return in
}
