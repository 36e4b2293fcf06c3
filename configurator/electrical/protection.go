package electrical

import (
	"math"
	"strings"

	"tunwright/catalog/unit"
)

// usualLeak holds the leakage table by kind.
var usualLeak = func() map[Kind][3]float64 {
	m := map[Kind][3]float64{}
	for r := range leakTable.Len() {
		a, _ := leakTable.Number(r, "ma")
		b, _ := leakTable.Number(r, "ma_per_kw")
		c, _ := leakTable.Number(r, "max_ma")
		m[Kind(leakTable.Text(r, "kind"))] = [3]float64{a, b, c}
	}
	return m
}()

// leakage is the protective conductor current of a load, and whether its maker gave
// it. Otherwise heating is taken at 2 mA per kW up to 30 mA, motors at 3.5 mA.
//
// Source: EN 60335-1 13.2 and its part 2 limits.
func leakage(l *Load) (unit.Current, bool) {
	if l.Leakage != nil {
		return *l.Leakage, true
	}
	u := usualLeak[l.Kind]
	return unit.Milliamperes(min(u[0]+u[1]*l.Power.KW(), u[2])), false
}

// residualFor is the residual current of the device a circuit gets, A: 30 mA for
// sockets up to 32 A, else the first of 100 and 300 mA of which the leakage takes no
// more than 30 %.
func residualFor(c *Circuit, l *Load) float64 {
	if (l.Kind == Socket || l.Movable) && c.Device.Rating.A() <= 32 {
		return 0.03
	}
	if c.Leakage.A() <= 0.3*0.1+1e-9 {
		return 0.1
	}
	return 0.3
}

// rcd suggests the residual current device of a circuit.
//
// Sources: BS 7671:2018 411.3.3 (sockets), 531.3.2 (30 % of the residual current),
// 531.3.3 (type), 411.5 (TT).
func (st *study) rcd(c *Circuit, m *machine) RCD {
	l := m.load
	if st.sys.rules == NEC {
		return gfci(c, m, l)
	}
	r := RCD{Residual: unit.Amperes(residualFor(c, l)), Leakage: c.Leakage, Type: rcdType(l)}
	r.Allowed = unit.Amperes(0.3 * r.Residual.A())
	switch {
	case (l.Kind == Socket || l.Movable) && c.Device.Rating.A() <= 32:
		r.Needed, r.Reasoning = true, "socket outlet up to 32 A"
	case st.in.Supply.earthing() == "TT":
		r.Needed, r.Protects, r.Reasoning = true, true, "TT earth: it is what disconnects"
	case l.ResidualTrip:
		r.Needed, r.Protects, r.Reasoning = true, true, "it cuts an earth fault off where the breaker would not"
	default:
		r.Reasoning = "advised in a wet room; time-delayed, one for each circuit"
	}
	return r
}

// rcdType is the type by the wave form of the fault current: B for three-phase
// drives, F for single-phase ones, A for the rest.
func rcdType(l *Load) string {
	switch {
	case l.Starter == VariableSpeed && l.Phases == 3:
		return "B"
	case l.Starter == VariableSpeed:
		return "F"
	}
	return "A"
}

// gfci is the US counterpart: receptacles in wet places up to 150 V to ground and
// 50 A, or three-phase up to 100 A. Source: NFPA 70 210.8(B).
func gfci(c *Circuit, m *machine, l *Load) RCD {
	r := RCD{Type: "GFCI", Leakage: c.Leakage, Residual: unit.Milliamperes(5), Allowed: unit.Milliamperes(4)}
	limit := 50.0
	if m.poles == 3 {
		limit = 100
	}
	if (l.Kind == Socket || l.Movable) && c.Device.Rating.A() <= limit {
		r.Needed, r.Reasoning = true, "receptacle in a wet location"
		return r
	}
	return RCD{Leakage: c.Leakage, Reasoning: "not asked for by 210.8(B)"}
}

// zoneKey is the row of the protection table for a load's place. In a wet zone two
// metres is the height up to which hoses are reckoned with; an unknown height is
// taken as below.
func zoneKey(l *Load) string {
	zone := l.Zone
	if zone == "" {
		zone = Wet
	}
	if zone == Wet && l.Height != nil && l.Height.M() >= 2 {
		return "wet-high"
	}
	return string(zone)
}

// usualIP is the ingress protection by zone.
var usualIP = func() map[string]string {
	m := map[string]string{}
	for r := range zoneTable.Len() {
		m[zoneTable.Text(r, "zone")] = "IP" + zoneTable.Text(r, "first") + zoneTable.Text(r, "second")
	}
	return m
}()

// neededIP is the ingress protection a place asks for; a place the table does not
// know is taken as wet.
func neededIP(l *Load) string {
	if ip, ok := usualIP[zoneKey(l)]; ok {
		return ip
	}
	return usualIP["wet"]
}

// enclosure is the protection asked for in the terms of the rule set.
func enclosure(l *Load, rules RuleSet) string {
	if rules != NEC {
		return neededIP(l)
	}
	row, ok := zoneTable.Find("zone", zoneKey(l))
	if !ok {
		return "NEMA 4X"
	}
	return "NEMA " + zoneTable.Text(row, "nema")
}

// ZoneWords gives the place in words, as the table of zones has it.
func ZoneWords(l Load) string {
	row, ok := zoneTable.Find("zone", zoneKey(&l))
	if !ok {
		return string(l.Zone)
	}
	return zoneTable.Text(row, "words")
}

// MeetsIP tells whether a protection code covers another. The second numerals 7, 8
// and 9 do not include 5 and 6, so IP67 does not stand in for IP66; a double code
// such as IP66/IP67 has both. An X stands for "not tested" and covers nothing.
//
// Source: IEC 60529 clause 6.
func MeetsIP(have, need string) bool {
	n1, n2, ok := digitsIP(need)
	if !ok {
		return false
	}
	first, second := false, false
	for _, code := range strings.Split(have, "/") {
		h1, h2, ok := digitsIP(strings.TrimSpace(code))
		if !ok {
			return false
		}
		first = first || h1 >= n1
		second = second || (h2 >= n2 && (h2 <= 6 || n2 > 6 || n2 <= 4))
	}
	return first && second
}

// digitsIP reads IP66; X is -1.
func digitsIP(code string) (first, second int, ok bool) {
	code = strings.ToUpper(strings.TrimSpace(code))
	if len(code) < 4 || code[:2] != "IP" {
		return 0, 0, false
	}
	read := func(b byte) (int, bool) {
		if b == 'X' {
			return -1, true
		}
		return int(b - '0'), b >= '0' && b <= '9'
	}
	a, okA := read(code[2])
	b, okB := read(code[3])
	return a, b, okA && okB
}

// staysOn tells whether a load keeps running at an emergency stop: heating and
// motors drop, controls and light stay.
func (l *Load) staysOn() bool {
	if l.StaysOn != nil {
		return *l.StaysOn
	}
	return l.Kind != Element && l.Kind != Motor
}

// mainBond is the main bonding conductor: by the neutral where it is combined with
// earth, else half the earthing conductor between 6 and 25 mm².
//
// Source: BS 7671:2018 544.1.1 and Table 54.8.
func mainBond(neutral unit.CrossSection, combined bool) unit.CrossSection {
	if combined {
		row, err := bondTable.AtLeast("neutral_up_to_mm2", neutral.MM2())
		if err != nil {
			return unit.ConductorMM2(50)
		}
		b, _ := bondTable.Number(row, "bond_mm2")
		return unit.ConductorMM2(b)
	}
	half, _ := next(sizesIEC, ProtectiveConductor(neutral).MM2()/2)
	return unit.ConductorMM2(math.Min(math.Max(half, 6), 25))
}
