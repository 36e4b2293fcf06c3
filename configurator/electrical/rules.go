package electrical

import (
	"tunwright/catalog/source"
	"tunwright/configurator/rule"
)

// Facts is what the rules look at.
type Facts struct {
	Input  Input
	Result Result
}

// Rules are the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "EL-001", Severity: rule.Blocker, Title: "A load needs three phases and the supply has one",
			Why:      "A three-phase machine does not run on one phase; changing the supply takes weeks to months and must be known before the order.",
			Compares: "phases of the loads against phases of the supply",
			Source:   source.Derivation("a three-phase load needs three lines"), Check: threePhases,
		},
		{
			ID: "EL-002", Severity: rule.Warning, Title: "A load is rated for another voltage",
			Why:      "An element on a lower voltage heats with the square of it less, so the brew day grows; on a higher one it and its breaker overload. Motors overheat on both.",
			Compares: "site voltage against rated voltage, band −10 % to +6 %",
			Source:   source.Doc{ID: "IEC 60038", Title: "Standard voltages"}.Recalled("Table 1"), Check: ratedVoltage,
		},
		{
			ID: "EL-003", Severity: rule.Warning, Title: "An interlock is only an instruction",
			Why:      "What people are told not to do together is done together one day, and the fuse opens in the middle of a brew. Only a wired interlock or a certified load control counts.",
			Compares: "interlock groups against their means",
			Source:   source.Practice("demand may only be reduced by an automatic means"), Check: manualInterlocks,
		},
		{
			ID: "EL-004", Severity: rule.Warning, Title: "A load runs in a state the brew day does not have",
			Why:      "Nobody knows when it runs, so it is reckoned to run all day; the supply looks fuller than it is.",
			Compares: "states of the loads against states of the brew day",
			Source:   source.Derivation("what is not placed in the day counts in all of it"), Check: placedLoads,
		},
		{
			ID: "EL-010", Fills: "supply", Severity: rule.Blocker, Title: "The supply does not carry the brew day",
			Why:      "Elements run for hours, so there is no grace: the supply fuse opens and the brew in the kettle is lost.",
			Compares: "greatest line current of any state against fuse less existing load, line by line",
			Source:   inUS(bs7671.At("311.1, 433.1"), "220.40, 230.42"), DependsOn: []string{"EL-001"}, Check: supplyCarries,
		},
		{
			ID: "EL-011", Severity: rule.Notice, Title: "The supply has no spare",
			Why:      "With less than a tenth to spare the next pump or tank needs a new supply.",
			Compares: "margin of the worst line against 10 % of the fuse",
			Source:   source.Practice("keep 10 to 20 % of the supply free"), DependsOn: []string{"EL-010"}, Check: spare,
		},
		{
			ID: "EL-012", Severity: rule.Warning, Title: "The verdict turns on a figure nobody has measured",
			Why:      "Behind a 100 A carrier an 80 A link is common, and elements draw a tenth more at the top of the voltage band: what fits on paper may not fit on site.",
			Compares: "greatest line current against the supply under less kind assumptions",
			Source:   source.Practice("sensitivity of the verdict"), DependsOn: []string{"EL-010"}, Check: sensitivity,
		},
		{
			ID: "EL-013", Severity: rule.Notice, Title: "The lines are loaded unevenly",
			Why:      "Uneven lines waste the supply and unbalance the voltage.",
			Compares: "deviation from the mean line in the binding state against 10 %",
			Source:   source.Practice("imbalance up to 10 %"), DependsOn: []string{"EL-001"}, Check: imbalance,
		},
		{
			ID: "EL-014", Fills: "agreed capacity", Severity: rule.Warning, Title: "The demand is above the capacity agreed with the operator",
			Why:      "Above the agreed capacity the network may not carry the brewery, and the operator may refuse the added load until it is reinforced.",
			Compares: "apparent power of brewery and existing load against the agreed capacity",
			Source:   source.Doc{ID: "Electricity Safety, Quality and Continuity Regulations", Edition: "2002"}.Recalled("reg. 25"), DependsOn: []string{"EL-001"}, Check: agreed,
		},
		{
			ID: "EL-020", Severity: rule.Blocker, Title: "A circuit cannot be made from the tables",
			Why:      "A conductor that does not carry its device's rating overheats before the device opens.",
			Compares: "Ib ≤ In ≤ Iz",
			Source:   inUS(bs7671.Recalled("433.1.1"), "210.19(A), 210.20(A), 240.4"), DependsOn: []string{"EL-001"}, Check: circuitsComplete,
		},
		{
			ID: "EL-021", Fills: "voltage drop", Severity: rule.Warning, Title: "The voltage drop is too large",
			Why:      "Motors start hard and elements heat less at the end of a long cable.",
			Compares: "drop from the origin against 3 % for lighting, 5 % for other uses",
			Source:   inUS(bs7671.At("525, Appendix 4 Table 4Ab"), "informational notes to 210.19(A) and 215.2(A)"), DependsOn: []string{"EL-020"}, Check: voltageDrops,
		},
		{
			ID: "EL-022", Severity: rule.Blocker, Title: "A fault to earth is not cut off in time",
			Why:      "Until the device opens, the metal of a vessel stands at a dangerous voltage in a wet room.",
			Compares: "earth fault loop Zs against the limit of the device",
			Source:   bs7671.At("411.4.4, Table 41.3"), DependsOn: []string{"EL-020"}, Check: faultLoops,
		},
		{
			ID: "EL-023", Severity: rule.Warning, Title: "A motor pulls the voltage down when it starts",
			Why:      "The motor may not start, contactors drop out and controllers reset.",
			Compares: "dip at the terminals at starting against 15 %",
			Source:   source.Practice("dip at the terminals up to 10 to 15 %"), DependsOn: []string{"EL-020"}, Check: startDips,
		},
		{
			ID: "EL-024", Severity: rule.Notice, Title: "Breakers stand side by side under full load for hours",
			Why:      "Neighbouring breakers warm each other and trip below their rating.",
			Compares: "Ib against the board's rated diversity factor times In",
			Source:   source.Doc{ID: "IEC 61439-1"}.At("rated diversity factor"), DependsOn: []string{"EL-020"}, Check: deratings,
		},
		{
			ID: "EL-025", Severity: rule.Warning, Title: "Leakage trips the residual current device",
			Why:      "Elements and drives leak in good order; above a third of the rating the device trips without a fault.",
			Compares: "standing leakage against 30 % of the residual current",
			Source:   bs7671.Recalled("531.3.2"), DependsOn: []string{"EL-020"}, Check: leakages,
		},
		{
			ID: "EL-026", Fills: "breaking capacity", Severity: rule.Blocker, Title: "Devices cannot break the fault current",
			Why:      "A breaker that cannot break the current bursts.",
			Compares: "prospective fault current against the largest breaking capacity offered",
			Source:   inUS(bs7671.At("434.5.1, 536.4.203"), "110.9"), Check: breakingCapacity,
		},
		{
			ID: "EL-027", Severity: rule.Warning, Title: "A terminal is not tight enough for its place",
			Why:      "Water or dust gets in and the earth fault comes with it.",
			Compares: "protection of the terminal against that of its zone",
			Source:   iec60529.At("clause 6"), Check: protections,
		},
		{
			ID: "EL-028", Severity: rule.Warning, Title: "The heating time is longer than the day gives",
			Why:      "The brewer waits for hot liquor, or starts in the night after the first brew.",
			Compares: "heat of one brew over power against hours in which the element runs",
			Source:   source.Derivation("energy over power"), Check: heatingTimes,
		},
		{
			ID: "EL-029", Severity: rule.Blocker, Title: "A heating element gets no power in its brew day",
			Why:      "The supply looks large enough only because the load-limiting control never lets the element run: nothing gets hot.",
			Compares: "energy an element is given in the brew day against none",
			Source:   source.Derivation("energy over power"), Check: heatedAtAll,
		},
	}
}

// inUS adds where the NEC asks the same.
func inUS(r source.Ref, place string) source.Ref {
	r.Note = "in the US " + nfpa70.ID + " " + place
	return r
}
