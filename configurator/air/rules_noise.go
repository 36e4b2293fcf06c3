package air

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func noiseRules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "AI-040", Severity: rule.Warning, Title: "The neighbours will hear the machines outdoors",
			Why:      "A complaint brings the authority; the chiller is switched off at night, with the tanks full.",
			Compares: "rating level at the neighbour against the background plus 5 dB", Source: bs4142.At("clause 11"), Law: abroad(noiseAbroad),
			Check: noiseRule(5),
		},
		{
			ID: "AI-041", Severity: rule.Warning, Title: "The noise needs an acoustician before anything is ordered",
			Why:      "More than 10 dB above the background is likely to be a significant adverse impact: planning is refused or the plant stopped.",
			Compares: "rating level at the neighbour against the background plus 10 dB", Source: bs4142.At("clause 11"), Law: abroad(noiseAbroad),
			Check: noiseRule(10),
		},
	}
}

func noiseRule(over float64) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		if len(f.Result.Noise) == 0 {
			return []rule.Answer{rule.DoesNotApply("nothing that makes noise stands outdoors")}
		}
		answers := make([]rule.Answer, 0, len(f.Result.Noise))
		for i, r := range f.Result.Noise {
			a := judgeNoise(f.Input.Noise[i], r, over)
			a.Subject = r.Neighbour
			if a.Outcome == rule.Fail {
				a.Remedies = noiseRemedies(f.Input.Noise[i], r, over)
			}
			answers = append(answers, a)
		}
		return answers
	}
}

func judgeNoise(n Noise, r NoiseResult, over float64) rule.Answer {
	switch {
	case !r.Placed:
		return rule.Lacks("", "how far the machines stand from the neighbour is not known", "Noise.Sources.Distance")
	case !r.Known:
		return rule.Lacks("", "the sound power of a machine is not known; a figure without distance does not serve", "Noise.Sources.Power")
	case n.Background == nil:
		return rule.Lacks("", r.Words, "Noise.Background")
	}
	limit := unit.DecibelsA(n.Background.DBA() + over)
	if r.Excess.DB() > over {
		return rule.Fails("", r.Rating, limit, r.Words+"."+checkText)
	}
	return rule.Passes("", r.Rating, limit, r.Words)
}

// screen is all that a close solid screen takes off; common practice, no source.
const screen = 10.0 // dB

// noiseRemedies tries each quieter machine, a screen, more distance, and the last two
// together where none of them does alone. Farther than 100 m no level is given, so
// that no remedy asks for it.
func noiseRemedies(n Noise, r NoiseResult, over float64) (list []rule.Remedy) {
	try := func(change func([]Sound), rem rule.Remedy) {
		x := n
		x.Sources = append([]Sound(nil), n.Sources...)
		change(x.Sources)
		res, err := sizeNoise(x)
		if err != nil {
			return
		}
		a := judgeNoise(x, res, over)
		if a.Outcome != rule.Pass {
			return
		}
		rem.Need, rem.Have = a.Need, a.Have
		rem.Words += ": rating " + unit.Fixed(res.Rating, 1)
		list = append(list, rem)
	}
	for i, s := range n.Sources {
		for _, q := range s.Quieter {
			q.Distance, q.Walls, q.Screen, q.Count = s.Distance, s.Walls, s.Screen, s.Count
			try(func(all []Sound) { all[i] = q }, rule.Remedy{Kind: "quieter-machine", Words: "take " + q.Name + " instead of " + s.Name, Params: []rule.Param{{Name: "machine", Text: q.Name}, {Name: "instead-of", Text: s.Name}}})
		}
	}
	excess := r.Excess.DB() - over
	if take := unit.Decibels(math.Ceil(excess)); take.DB() <= screen {
		try(func(all []Sound) { behind(all, take) }, rule.Remedy{Kind: "acoustic-screen", Words: "close solid screen that takes off " + take.String() + ", proved by its maker", Params: []rule.Param{{Name: "screen", Quantity: take}}})
	}
	factor := fartherBy(excess)
	try(func(all []Sound) { farther(all, factor) }, rule.Remedy{Kind: "more-distance", Words: "set the machines " + unit.Digits(factor, 3) + " times as far from the neighbour"})
	if len(list) == 0 {
		factor = fartherBy(excess - screen)
		try(func(all []Sound) { behind(all, unit.Decibels(screen)); farther(all, factor) }, rule.Remedy{Kind: "screen-and-distance", Words: "a screen of 10 dB and " + unit.Digits(factor, 3) + " times the distance"})
	}
	return list
}

func behind(all []Sound, take unit.SoundDiff) {
	for i := range all {
		all[i].Screen += take
	}
}

func farther(all []Sound, factor float64) {
	for i := range all {
		all[i].Distance = unit.Metres(math.Ceil(all[i].Distance.M() * factor))
	}
}

// fartherBy is how many times the distance takes a level off, with 1 % to spare and
// rounded up to the tenth that is printed.
func fartherBy(db float64) float64 { return math.Ceil(10*1.01*math.Pow(10, max(db, 0)/20)) / 10 }
