package electrical

import (
	"slices"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"

	"pgregory.net/rapid"
)

func TestRulesForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func findings(t testing.TB, in Input) []rule.Finding {
	t.Helper()
	return rule.Run(Rules(), Facts{in, mustSize(t, in)})
}

// healthy is a small brewery in which every rule is in order.
func healthy() Input {
	pf := ptr(unit.Fraction(0.85))
	return Input{
		Rules: IEC,
		Supply: Supply{
			Phases: ptr(3), Fuse: ptr(unit.Amperes(100)), FuseBasis: Measured, Existing: ptr(unit.Amperes(10)), Basis: Measured,
			Agreed: ptr(unit.KilovoltAmperes(69)), Ze: ptr(unit.Ohms(0.2)), Earthing: "TN-C-S", Fault: ptr(unit.Amperes(5000)), Distance: ptr(unit.Metres(10)),
		},
		Loads: []Load{
			{Tag: "K1", Item: "BH", Kind: Element, Phases: 3, Power: unit.Kilowatts(18), Control: Staged, Stages: 3, Voltage: ptr(unit.Volts(400)), Runs: []Run{{State: "boil"}}, Length: ptr(unit.Metres(12)), IP: "IP66", Nameplate: true},
			{Tag: "H1", Item: "HLT", Kind: Element, Phases: 3, Power: unit.Kilowatts(12), Control: OnOff, Runs: []Run{{State: "hlt"}}, Length: ptr(unit.Metres(12)), IP: "IP66", Heat: ptr(unit.KilowattHours(20))},
			{Tag: "C1", Kind: Motor, Starter: SoftStart, Phases: 3, Power: unit.Kilowatts(4), PowerFactor: pf, Runs: []Run{{State: "all"}}, Length: ptr(unit.Metres(15)), Zone: Outdoor, IP: "IP55"},
			{Tag: "P1", Kind: Motor, Starter: VariableSpeed, Phases: 1, Power: unit.Kilowatts(0.55), PowerFactor: pf, Runs: []Run{{State: "mash"}, {State: "cool"}}, Length: ptr(unit.Metres(12)), IP: "IP66"},
			{Tag: "P2", Kind: Motor, Starter: VariableSpeed, Phases: 1, Power: unit.Kilowatts(0.55), PowerFactor: pf, Runs: []Run{{State: "mash"}, {State: "cip"}}, Length: ptr(unit.Metres(12)), IP: "IP66"},
			{Tag: "L1", Kind: Lighting, Phases: 1, Power: unit.Kilowatts(0.4), Length: ptr(unit.Metres(20)), Zone: Dry, IP: "IP65"},
		},
		Install: Installation{Method: MethodE, Ambient: ptr(unit.Celsius(30)), Grouped: 3, Derating: ptr(unit.Fraction(0.9))},
	}
}

// TestEachRule shows each rule in order, failing and unknown, as far as it can be.
func TestEachRule(t *testing.T) {
	load := func(tag string, change func(*Load)) func(*Input) {
		return func(in *Input) {
			for i := range in.Loads {
				if in.Loads[i].Tag == tag {
					change(&in.Loads[i])
				}
			}
		}
	}
	tests := []struct {
		rule    string
		change  func(*Input)
		outcome rule.Outcome
		remedy  string // a kind that must be among the remedies
	}{
		{"EL-001", func(in *Input) { in.Supply.Phases = ptr(1) }, rule.Fail, LargerSupply},
		{"EL-001", func(in *Input) { in.Supply.Phases = nil }, rule.Unknown, ""},
		{"EL-002", load("K1", func(l *Load) { l.Voltage = ptr(unit.Volts(480)) }), rule.Fail, RatedVoltage},
		{"EL-003", func(in *Input) {
			in.Loads[0].Group, in.Loads[1].Group = "heat", "heat"
			in.Interlocks = []Interlock{{Group: "heat", Manual: true}}
		}, rule.Fail, WireInterlock},
		{"EL-004", load("P1", func(l *Load) { l.Runs = []Run{{State: "filter"}} }), rule.Fail, ""},
		{"EL-010", func(in *Input) { in.Supply.Fuse = ptr(unit.Amperes(55)) }, rule.Fail, LargerSupply},
		{"EL-010", func(in *Input) { in.Supply.Fuse = ptr(unit.Amperes(55)) }, rule.Fail, InterlockLoads},
		{"EL-010", func(in *Input) { in.Supply.Fuse = ptr(unit.Amperes(55)) }, rule.Fail, NightLiquor},
		{"EL-010", func(in *Input) { in.Supply.Fuse = ptr(unit.Amperes(55)) }, rule.Fail, StageLoads},
		{"EL-010", func(in *Input) { in.Supply.Fuse = nil }, rule.Unknown, ""},
		{"EL-010", func(in *Input) { in.Supply.Existing = nil }, rule.Unknown, ""},
		{"EL-010", func(in *Input) { in.Supply.Existing, in.Supply.Fuse = nil, ptr(unit.Amperes(32)) }, rule.Fail, ""},
		{"EL-010", func(in *Input) {
			in.Supply.Fuse = ptr(unit.Amperes(32))
			in.Alternatives = []Alternative{{Code: "BH-G", Words: "the gas-heated brewhouse", Kind: "gas-variant", Loads: in.Loads[3:]}}
		}, rule.Fail, "gas-variant"},
		{"EL-010", func(in *Input) {
			in.Supply.Fuse = ptr(unit.Amperes(80))
			for _, i := range []int{3, 4, 5} {
				in.Loads[i].Line = 1
				in.Loads[i].Power = unit.Kilowatts(2.5)
				in.Loads[i].Runs = nil
			}
		}, rule.Fail, OtherLine},
		{"EL-011", func(in *Input) { in.Supply.Existing = ptr(unit.Amperes(43)) }, rule.Fail, LargerSupply},
		{"EL-012", func(in *Input) {
			in.Supply.FuseBasis, in.Supply.Existing = Told, ptr(unit.Amperes(35))
		}, rule.Fail, LargerSupply},
		{"EL-013", func(in *Input) {
			for _, i := range []int{3, 4, 5} {
				in.Loads[i].Line, in.Loads[i].Runs, in.Loads[i].Power = 1, nil, unit.Kilowatts(1.5)
			}
		}, rule.Fail, ""},
		{"EL-014", func(in *Input) { in.Supply.Agreed = ptr(unit.KilovoltAmperes(20)) }, rule.Fail, AgreeCapacity},
		{"EL-014", func(in *Input) { in.Supply.Agreed = nil }, rule.Unknown, ""},
		{"EL-014", func(in *Input) { in.Supply.Existing = nil }, rule.Unknown, ""},
		{"EL-020", load("K1", func(l *Load) { l.Power = unit.Kilowatts(600) }), rule.Fail, SplitLoad},
		{"EL-020", load("K1", func(l *Load) { l.Ambient = ptr(unit.Celsius(65)) }), rule.Fail, ""},
		{"EL-021", load("K1", func(l *Load) { l.Length = ptr(unit.Metres(5000)) }), rule.Fail, ShorterCable},
		{"EL-022", func(in *Input) {
			in.Supply.Ze = ptr(unit.Ohms(1.2))
			in.Loads[2].Starter, in.Loads[2].StartMultiple = Direct, ptr(unit.Fraction(8))
		}, rule.Fail, UseSoftStart},
		{"EL-022", func(in *Input) {
			in.Supply.Ze = ptr(unit.Ohms(1.2))
			in.Loads[2].Starter, in.Loads[2].StartMultiple = Direct, ptr(unit.Fraction(8))
		}, rule.Fail, ResidualTrip},
		{"EL-022", func(in *Input) { in.Supply.Ze = nil }, rule.Unknown, ""},
		{"EL-023", func(in *Input) {
			in.Loads[2].Starter, in.Loads[2].StartMultiple, in.Loads[2].Power, in.Loads[2].Length = Direct, ptr(unit.Fraction(10)), unit.Kilowatts(11), ptr(unit.Metres(250))
		}, rule.Fail, UseSoftStart},
		{"EL-024", func(in *Input) { in.Install.Derating = ptr(unit.Fraction(0.5)) }, rule.Fail, SpaceDevices},
		{"EL-024", func(in *Input) {
			in.Install.Derating = ptr(unit.Fraction(0.8))
			in.Loads[0].Power, in.Loads[1].Power = unit.Kilowatts(20), unit.Kilowatts(7)
		}, rule.Fail, NextDevice},
		{"EL-025", load("K1", func(l *Load) { l.Leakage = ptr(unit.Milliamperes(120)) }), rule.Fail, SplitLoad},
		{"EL-026", func(in *Input) { in.Supply.Fault = ptr(unit.Amperes(60000)) }, rule.Fail, ""},
		{"EL-026", func(in *Input) { in.Supply.Fault = nil }, rule.Unknown, ""},
		{"EL-027", load("P1", func(l *Load) { l.IP = "IP65" }), rule.Fail, OtherPlace},
		{"EL-027", load("P1", func(l *Load) { l.IP = "IP54" }), rule.Fail, ""},
		{"EL-027", func(in *Input) {
			for i := range in.Loads {
				in.Loads[i].IP = ""
			}
		}, rule.Unknown, ""},
		{"EL-028", load("H1", func(l *Load) { l.Heat = ptr(unit.KilowattHours(60)) }), rule.Fail, StartEarlier},
		{"EL-028", load("H1", func(l *Load) { l.Heat = nil }), rule.NotApplicable, ""},
		{"EL-029", load("H1", func(l *Load) {
			l.Heat, l.Runs = ptr(unit.KilowattHours(10)), []Run{{State: "strike", Duty: ptr(unit.Fraction(0))}}
		}), rule.Fail, ""},
		{"EL-029", load("H1", func(l *Load) { l.Heat = nil }), rule.NotApplicable, ""},
	}
	seen := ruletest.Seen{}
	for _, tt := range tests {
		in := healthy()
		tt.change(&in)
		seen.Add(tt.rule, tt.outcome)
		checkFinding(t, in, tt.rule, tt.outcome, tt.remedy)
	}
	for _, f := range findings(t, healthy()) {
		if f.Outcome != rule.Pass {
			t.Errorf("%s is %s on the healthy brewery: %s", f.Rule.ID, f.Outcome, f.Words)
		}
		seen.Add(f.Rule.ID, f.Outcome)
	}
	seen.Complete(t, rule.Infos(Rules()), map[string]string{
		"EL-002 unknown": "a load that tells no voltage is taken to suit the supply",
		"EL-003 unknown": "an interlock that is entered says whether it is manual",
		"EL-004 unknown": "a load that tells no state is counted in every one",
		"EL-011 unknown": "it waits on EL-010, which asks for the same",
		"EL-012 unknown": "it waits on EL-010, which asks for the same",
		"EL-013 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-020 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-021 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-023 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-024 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-025 unknown": "it judges what is worked out from required entries and stated assumptions",
		"EL-028 unknown": "an element that tells no heat is not judged: the rule does not apply",
		"EL-029 unknown": "an element that tells no heat is not judged: the rule does not apply",
	})
}

// checkFinding looks for an outcome of a rule and applies each remedy it offers: the
// rule must no longer fail on that subject.
func checkFinding(t *testing.T, in Input, id string, want rule.Outcome, kind string) {
	t.Helper()
	if !slices.ContainsFunc(Rules(), func(r rule.Rule[Facts]) bool { return r.ID == id }) {
		t.Errorf("%s is no rule", id)
	}
	found, offered := false, kind == ""
	for _, f := range findings(t, in) {
		if f.Rule.ID != id || f.Outcome != want || f.WaitingOn != "" {
			continue
		}
		found = true
		if want == rule.Unknown && len(f.Missing) == 0 {
			t.Errorf("%s is unknown without naming what is missing", id)
		}
		for _, r := range f.Remedies {
			offered = offered || r.Kind == kind
			checkRemedy(t, in, f, r)
		}
	}
	if !found {
		for _, f := range findings(t, in) {
			if f.Rule.ID == id {
				t.Errorf("%s is %s, want %s: %s", id, f.Outcome, want, f.Words)
			}
		}
		t.Errorf("%s is not %s", id, want)
	}
	if found && !offered {
		t.Errorf("%s does not offer %s", id, kind)
	}
}

func checkRemedy(t *testing.T, in Input, f rule.Finding, r rule.Remedy) {
	t.Helper()
	if r.Words == "" {
		t.Errorf("%s: remedy %s says nothing", f.Rule.ID, r.Kind)
	}
	after, err := Apply(in, r)
	if err != nil {
		t.Errorf("%s: %v", f.Rule.ID, err)
		return
	}
	for _, g := range findings(t, after) {
		if g.Rule.ID == f.Rule.ID && g.Outcome == rule.Fail && (g.Subject == f.Subject || f.Rule.ID == "EL-010" || f.Rule.ID == "EL-001") {
			t.Errorf("%s still fails after %s: %s", f.Rule.ID, r.Words, g.Words)
		}
	}
}

// TestRemedyFigures: the demand a remedy promises is the demand once it is applied.
func TestRemedyFigures(t *testing.T) {
	for _, f := range findings(t, goldenInput()) {
		if f.Rule.ID != "EL-010" {
			continue
		}
		if len(f.Remedies) < 3 {
			t.Fatalf("%d remedies", len(f.Remedies))
		}
		for _, r := range f.Remedies {
			after, err := Apply(goldenInput(), r)
			if err != nil {
				t.Fatal(err)
			}
			got := mustSize(t, after).Binding.Demand.A()
			close(t, r.Kind+" demand", got, params(r.Params).number("demand"), 1e-9)
		}
	}
}

// TestSinglePhaseFarm: a farm building on a single-phase supply. Three-phase loads are
// one finding, circuits wait on it, and remedies are those which carry the whole day.
func TestSinglePhaseFarm(t *testing.T) {
	in := healthy()
	in.Supply = Supply{Phases: ptr(1), Fuse: ptr(unit.Amperes(100)), FuseBasis: Told, Existing: ptr(unit.Amperes(20)), Basis: Told, Ze: ptr(unit.Ohms(0.35)), Earthing: "TT", Fault: ptr(unit.Amperes(3000))}
	in.Loads[0].Power, in.Loads[1].Power = unit.Kilowatts(36), unit.Kilowatts(12)
	in.Alternatives = []Alternative{
		{Code: "BH-GAS", Words: "the gas-heated brewhouse", Kind: "gas-variant", Loads: in.Loads[3:]},
		{Code: "BH-BIG", Words: "a larger electric brewhouse", Kind: "smaller-elements", Loads: in.Loads},
	}
	for _, f := range findings(t, in) {
		switch f.Rule.ID {
		case "EL-001":
			kinds := ""
			for _, r := range f.Remedies {
				kinds = join(kinds, r.Kind)
			}
			if f.Outcome != rule.Fail || kinds != "phase-converter, larger-supply, gas-variant" {
				t.Errorf("outcome %s with remedies %s", f.Outcome, kinds)
			}
		case "EL-010", "EL-020", "EL-022":
			if f.WaitingOn == "" {
				t.Errorf("%s does not wait: %s", f.Rule.ID, f.Words)
			}
		}
	}
	// Elements alone can be ordered for one phase, if need be with a load limit.
	elements := in
	elements.Loads = append([]Load{}, in.Loads...)
	elements.Loads[0].Power, elements.Loads[1].Power = unit.Kilowatts(9), unit.Kilowatts(6)
	elements.Loads[2].Phases = 1
	checkFinding(t, elements, "EL-001", rule.Fail, OnePhase)
	elements.Loads[0].Power, elements.Loads[1].Power = unit.Kilowatts(12), unit.Kilowatts(9)
	checkFinding(t, elements, "EL-001", rule.Fail, OnePhase)
	// A smaller brewery fits behind a phase converter.
	in.Loads[0].Power, in.Loads[1].Power = unit.Kilowatts(6), unit.Kilowatts(3)
	checkFinding(t, in, "EL-001", rule.Fail, PhaseConverter)
}

// TestManagedDay: where no single change serves, night liquor and a load limit do it
// together.
func TestManagedDay(t *testing.T) {
	in := healthy()
	in.Supply.Fuse = ptr(unit.Amperes(45))
	in.Supply.Offers = []Offer{}
	in.Loads[0].Power, in.Loads[1].Power = unit.Kilowatts(18), unit.Kilowatts(18)
	in.Loads[2].Power, in.Loads[2].Runs = unit.Kilowatts(8.8), []Run{{State: "strike"}, {State: "boil"}}
	r := mustSize(t, in)
	var kinds []string
	for _, rem := range (Facts{in, r}).supplyRemedies() {
		kinds = append(kinds, rem.Kind)
		checkRemedy(t, in, rule.Finding{Rule: rule.Info{ID: "EL-010"}}, rem)
	}
	if !slices.Equal(kinds, []string{ManagedDay, SolidStateLimit}) {
		t.Errorf("remedies %v", kinds)
	}
}

// TestRemediesPassOnceApplied on any brewery: whatever a failing rule offers, applied
// to the Input it was offered for, mends that finding.
func TestRemediesPassOnceApplied(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Supply.Fuse = ptr(unit.Amperes(float64(rapid.IntRange(20, 200).Draw(t, "fuse"))))
		in.Supply.Existing = ptr(unit.Amperes(float64(rapid.IntRange(0, 15).Draw(t, "existing"))))
		in.Supply.Phases = ptr(rapid.SampledFrom([]int{1, 3}).Draw(t, "supply phases"))
		in.Supply.Ze, in.Supply.Fault = ptr(unit.Ohms(0.35)), ptr(unit.Amperes(6000))
		for i := range in.Loads {
			in.Loads[i].Line = rapid.IntRange(0, 3).Draw(t, "line")
		}
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range rule.Run(Rules(), Facts{in, r}) {
			for _, rem := range f.Remedies {
				mends(t, in, f, rem)
			}
		}
	})
}

func mends(t *rapid.T, in Input, f rule.Finding, rem rule.Remedy) {
	after, err := Apply(in, rem)
	if err != nil {
		t.Fatalf("%s: %v", f.Rule.ID, err)
	}
	r, err := Size(after)
	if err != nil {
		t.Fatalf("%s, after %s: %v", f.Rule.ID, rem.Words, err)
	}
	for _, g := range rule.Run(Rules(), Facts{after, r}) {
		if g.Rule.ID == f.Rule.ID && g.Outcome == rule.Fail && g.Subject == f.Subject {
			t.Fatalf("%s, after %s: %s", f.Rule.ID, rem.Words, g.Words)
		}
	}
}
