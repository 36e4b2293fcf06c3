package pack

import (
	"slices"

	"tunwright/configurator/air"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// hazard is a danger that a caution names; the value is its heading.
type hazard string

// The hazards of a job.
const (
	electricity hazard = "Electricity"
	structural  hazard = "Structure"
	lifting     hazard = "Lifting"
	underPress  hazard = "Pressure, steam and hot liquor"
	carbonic    hazard = "Carbon dioxide and steam"
)

// hazards are the cautions of every trade, in the order in which they are printed.
func hazards() []paper.Caution {
	caution := func(h hazard, lines ...string) paper.Caution {
		return paper.Caution{Title: string(h), Lines: say.Texts(lines)}
	}
	return []paper.Caution{
		caution(electricity, "A licensed electrician designs, installs, tests and certifies the installation to the rules in force. Isolate, lock off and prove dead before work."),
		caution(structural, "A chartered structural engineer confirms the floor, its members, fixings and every opening cut. Loads here are characteristic: no partial factors are included. Nothing on this paper says that a floor is safe."),
		caution(lifting, "A competent person plans each lift, supervises it and decides on wind and ground. Masses marked estimated carry their tolerance until the maker's weight is known."),
		caution(underPress, "Vessels are used below the pressure on their plate, with their relief and vacuum protection tested. Hot liquor, wort and cleaning chemicals scald and burn: guards, valves that lock and protective clothing."),
		caution(carbonic, air.Cautions()...),
	}
}

// whatThisIs stands before every other caution.
func whatThisIs() paper.Caution {
	return paper.Caution{Title: "What this paper is", Lines: say.Texts([]string{
		"Figures for planning and for pricing, worked out from the facts that it lists. Not a design, not a certificate and not permission to build.",
		"Local codes, the authorities and the licensed or chartered people named below decide. Where they and this paper differ, they are right.",
	})}
}

// cautionSections stand on every paper that somebody builds from.
func cautionSections(job) []paper.Section {
	blocks := []paper.Block{whatThisIs()}
	for _, c := range hazards() {
		blocks = append(blocks, c)
	}
	return []paper.Section{{Title: cautionTitle, Blocks: blocks}}
}

const cautionTitle = "Cautions"

// tradeCautions close a trade's paper: its own danger stands in its sections at length,
// those of the other trades who work beside it stand here in one box.
func tradeCautions(own []hazard) paper.Section {
	others := paper.Caution{Title: "Dangers from the other trades' work"}
	for _, c := range hazards() {
		if slices.Contains(own, hazard(c.Title)) {
			continue
		}
		for i, line := range c.Lines {
			if i == 0 {
				line = append(paper.Text{{Text: c.Title + ": ", Bold: true}}, line...)
			}
			others.Lines = append(others.Lines, line)
		}
	}
	return paper.Section{Title: cautionTitle, Blocks: []paper.Block{whatThisIs(), others}}
}
