package electrical

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"tunwright/catalog/unit"
)

// study is the working copy of one Size: the day, the machines and who runs when.
type study struct {
	in     *Input
	sys    system
	day    []DayState
	loads  []machine
	share  [][]share // by state, by load
	groups []group
	lineOf []int // by load: 1..3, 0 for several lines, of a two-pole load the line left out
	shed   []float64
}

// group is a set of loads held apart by more than an instruction.
type group struct {
	name    string
	members []int
}

// newStudy reads the Input and says what is impossible in it.
func newStudy(in *Input) (*study, error) {
	if in.Rules != IEC && in.Rules != NEC {
		return nil, fmt.Errorf("rules is %q: it must be IEC or NEC", in.Rules)
	}
	if len(in.Loads) == 0 {
		return nil, fmt.Errorf("loads is empty: give at least one load")
	}
	if err := errors.Join(checkSupply(&in.Supply), in.checkLimit(), positive("converter", in.Converter),
		oneOf("install.method", in.Install.Method, methods...), oneOf("install.cable", in.Install.Cable, "", Armoured, Thermoplastic, Thermosetting)); err != nil {
		return nil, err
	}
	st := &study{in: in, sys: systemOf(in), day: in.day()}
	st.loads = make([]machine, len(in.Loads))
	for i := range in.Loads {
		if err := checkLoad(&in.Loads[i]); err != nil {
			return nil, err
		}
		m, err := machineOf(&in.Loads[i], st.sys, in.Converter)
		if err != nil {
			return nil, err
		}
		st.loads[i] = m
	}
	if err := st.checkDay(); err != nil {
		return nil, err
	}
	st.group()
	st.allot()
	return st, nil
}

// day is the brew day as given, or the usual one.
func (in *Input) day() []DayState {
	if len(in.Day) > 0 {
		return in.Day
	}
	return DefaultDay(in.Brews)
}

func checkSupply(s *Supply) error {
	if s.Phases != nil && (*s.Phases < 1 || *s.Phases == 2 || *s.Phases > 3) {
		return fmt.Errorf("supply.phases is %d: it must be 1 or 3", *s.Phases)
	}
	err := errors.Join(positive("supply.voltage", s.Voltage), positive("supply.phase_voltage", s.PhaseVoltage), positive("supply.fuse", s.Fuse),
		positive("supply.fault", s.Fault), positive("supply.ze", s.Ze), positive("supply.agreed", s.Agreed))
	if err != nil {
		return err
	}
	if s.Distance != nil {
		if err := unit.NotNegative("supply.distance", *s.Distance); err != nil {
			return err
		}
	}
	if s.Existing != nil {
		return unit.NotNegative("supply.existing", *s.Existing)
	}
	if s.PerLine != nil {
		for _, a := range s.PerLine {
			if err := unit.NotNegative("supply.per_line", a); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkLimit refuses a limit that is no number. One of nothing or less, as on a supply
// that the existing load already fills, sheds all heating.
func (in *Input) checkLimit() error {
	if in.Limit != nil && (math.IsNaN(in.Limit.A()) || math.IsInf(in.Limit.A(), 0)) {
		return fmt.Errorf("limit is %s: it must be a number of amperes", *in.Limit)
	}
	return nil
}

// earthing is the system of earthing in the words of IEC 60364-1; PME is TN-C-S. What
// is not understood is unknown.
func (s *Supply) earthing() string {
	text := strings.ToUpper(strings.TrimSpace(s.Earthing))
	for _, known := range [...]string{"TN-C-S", "TN-S", "TT"} {
		if strings.HasPrefix(text, known) {
			return known
		}
	}
	if strings.Contains(text, "PME") {
		return "TN-C-S"
	}
	return ""
}

// positive checks a figure that may be unknown.
func positive[Q unit.Quantity](name string, q *Q) error {
	if q == nil {
		return nil
	}
	return unit.Positive(name, *q)
}

func checkLoad(l *Load) error {
	switch {
	case l.Tag == "":
		return fmt.Errorf("load %q has no tag: give each load a mark of its own", l.Name)
	case l.Phases != 1 && l.Phases != 3:
		return fmt.Errorf("load %s: phases is %d: it must be 1 or 3", l.Tag, l.Phases)
	case l.Line < 0 || l.Line > 3:
		return fmt.Errorf("load %s: line is %d: it must be 1, 2 or 3, or 0 where it is free", l.Tag, l.Line)
	}
	err := errors.Join(
		oneOf("kind", l.Kind, Element, Motor, Electronics, Lighting, Socket),
		oneOf("starter", l.Starter, "", NoStarter, Direct, StarDelta, SoftStart, VariableSpeed),
		oneOf("control", l.Control, "", OnOff, Staged, SolidState),
		oneOf("zone", l.Zone, "", Wet, Cellar, Dry, Malt, Outdoor),
		oneOf("method", l.Method, methods...),
		oneOf("curve", l.Curve, "", CurveB, CurveC, CurveD),
	)
	if err != nil {
		return fmt.Errorf("load %s: %w", l.Tag, err)
	}
	if err := l.checkFigures(); err != nil {
		return fmt.Errorf("load %s: %w", l.Tag, err)
	}
	for _, r := range l.Runs {
		for _, q := range []*unit.Ratio{r.Duty, r.Peak} {
			if q == nil {
				continue
			}
			if err := unit.InRange("share in state "+r.State, q.Value(), 0, 1); err != nil {
				return fmt.Errorf("load %s: %w", l.Tag, err)
			}
		}
	}
	return nil
}

// methods are the ways of laying that are known; empty leaves it to the installation.
var methods = []Method{"", MethodA1, MethodA2, MethodB1, MethodB2, MethodC, MethodE, MethodConduit, MethodD1}

// oneOf checks a word against those that are known.
func oneOf[S ~string](name string, got S, known ...S) error {
	if slices.Contains(known, got) {
		return nil
	}
	words := make([]string, 0, len(known))
	for _, k := range known {
		if k != "" {
			words = append(words, string(k))
		}
	}
	return fmt.Errorf("%s is %q: it must be one of %s", name, got, strings.Join(words, ", "))
}

// checkFigures refuses figures that cannot be, whether or not they are used.
func (l *Load) checkFigures() error {
	if l.Length != nil {
		if err := unit.NotNegative("length", *l.Length); err != nil {
			return err
		}
	}
	if l.Heat != nil {
		if err := unit.NotNegative("heat", *l.Heat); err != nil {
			return err
		}
	}
	if l.Leakage != nil {
		if err := unit.NotNegative("leakage", *l.Leakage); err != nil {
			return err
		}
	}
	return errors.Join(positive("voltage", l.Voltage), positive("starting multiple", l.StartMultiple), positive("cap", l.Cap),
		positive("outlet", l.Outlet), positive("device", l.Device))
}

func (st *study) checkDay() error {
	total := 0.0
	for _, s := range st.day {
		if s.Key == "" || !(s.Hours.H() > 0) {
			return fmt.Errorf("day: state %q lasts %s: give each state a key and a length above 0 h", s.Key, s.Hours)
		}
		total += s.Hours.H()
	}
	if total > 24.0001 {
		return fmt.Errorf("day: the states last %s h together: a day has 24 h", unit.Digits(total, 4))
	}
	for i := range st.in.Loads {
		for k := range i {
			if st.in.Loads[k].Tag == st.in.Loads[i].Tag {
				return fmt.Errorf("load %s stands twice: give each load a mark of its own", st.in.Loads[i].Tag)
			}
		}
	}
	return nil
}

// group collects the interlocks that count. An instruction to people does not.
func (st *study) group() {
	manual := map[string]bool{}
	for _, k := range st.in.Interlocks {
		manual[k.Group] = k.Manual
	}
	at := map[string]int{}
	for i := range st.in.Loads {
		name := st.in.Loads[i].Group
		if name == "" || manual[name] {
			continue
		}
		k, ok := at[name]
		if !ok {
			k = len(st.groups)
			at[name] = k
			st.groups = append(st.groups, group{name: name})
		}
		st.groups[k].members = append(st.groups[k].members, i)
	}
}

// allot works out who runs when, and sheds elements to the limit.
func (st *study) allot() {
	n := len(st.loads)
	st.share = make([][]share, len(st.day))
	flat := make([]share, len(st.day)*n)
	st.shed = make([]float64, len(st.day))
	for s := range st.day {
		st.share[s] = flat[s*n : (s+1)*n]
		st.shed[s] = 1
	}
	for i := range st.in.Loads {
		l := &st.in.Loads[i]
		adrift := !l.placed(st.day)
		for s := range st.day {
			if adrift {
				// Its states are not of this day: on the safe side it runs in all of them.
				st.share[s][i] = l.share(Run{}, st.day[s].Key)
				continue
			}
			st.share[s][i] = l.at(&st.day[s])
		}
		st.heatEnough(i)
	}
	st.lineOf = make([]int, n)
}

// heatEnough lowers the mean shares of an element to the heat its brews ask for: its
// thermostat opens once the heat is in. The current while it runs stays.
func (st *study) heatEnough(i int) {
	heat := st.in.Loads[i].Heat
	if heat == nil || *heat <= 0 {
		return
	}
	given := 0.0
	for s := range st.day {
		given += st.share[s][i].mean * st.loads[i].watts * st.day[s].Hours.S()
	}
	want := heat.J() * float64(max(st.in.Brews, 1))
	if given <= want {
		return
	}
	for s := range st.day {
		st.share[s][i].mean *= want / given
	}
}
