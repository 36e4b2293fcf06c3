package pack

import (
	"tunwright/configurator/air"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// cautionSections stand on every paper that somebody builds from.
func cautionSections(j job) []paper.Section {
	return []paper.Section{{Title: "Cautions", Blocks: []paper.Block{
		paper.Caution{Title: "What this paper is", Lines: say.Texts([]string{
			"Figures for planning and for pricing, worked out from the facts listed under Assumptions. Not a design, not a certificate and not permission to build.",
			"Local codes, the authorities and the licensed or chartered people named below decide. Where they and this paper differ, they are right.",
		})},
		paper.Caution{Title: "Electricity", Lines: say.Texts([]string{
			"A licensed electrician designs, installs, tests and certifies the installation to the rules in force. Isolate, lock off and prove dead before work.",
		})},
		paper.Caution{Title: "Structure", Lines: say.Texts([]string{
			"A chartered structural engineer confirms the floor, its members, fixings and every opening cut. Loads here are characteristic: no partial factors are included. Nothing on this paper says that a floor is safe.",
		})},
		paper.Caution{Title: "Lifting", Lines: say.Texts([]string{
			"A competent person plans each lift, supervises it and decides on wind and ground. Masses marked estimated carry their tolerance until the maker's weight is known.",
		})},
		paper.Caution{Title: "Pressure, steam and hot liquor", Lines: say.Texts([]string{
			"Vessels are used below the pressure on their plate, with their relief and vacuum protection tested. Hot liquor, wort and cleaning chemicals scald and burn: guards, valves that lock and protective clothing.",
		})},
		paper.Caution{Title: "Carbon dioxide and steam", Lines: say.Texts(air.Cautions())},
	}}}
}
