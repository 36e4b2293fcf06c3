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
			Compares: "rating level at the neighbour against the background plus 5 dB", Source: bs4142.At("clause 11"),
			Check: noiseRule(5),
		},
		{
			ID: "AI-041", Severity: rule.Warning, Title: "The noise needs an acoustician before anything is ordered",
			Why:      "More than 10 dB above the background is likely to be a significant adverse impact: planning is refused or the plant stopped.",
			Compares: "rating level at the neighbour against the background plus 10 dB", Source: bs4142.At("clause 11"),
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

// noiseRemedies tries each quieter machine, a screen of at most 10 dB, and more
// distance up to 100 m.
func noiseRemedies(n Noise, r NoiseResult, over float64) (list []rule.Remedy) {
	try := func(change func([]Sound), rem rule.Remedy) bool {
		x := n
		x.Sources = append([]Sound(nil), n.Sources...)
		change(x.Sources)
		res, err := sizeNoise(x)
		if err != nil {
			return false
		}
		a := judgeNoise(x, res, over)
		if a.Outcome != rule.Pass {
			return false
		}
		rem.Need, rem.Have = a.Need, a.Have
		rem.Words += ": rating " + unit.Fixed(res.Rating, 1)
		list = append(list, rem)
		return true
	}
	for i, s := range n.Sources {
		for _, q := range s.Quieter {
			q.Distance, q.Walls, q.Screen, q.Count = s.Distance, s.Walls, s.Screen, s.Count
			try(func(all []Sound) { all[i] = q }, rule.Remedy{Kind: "quieter-machine", Words: "take " + q.Name + " instead of " + s.Name, Params: []rule.Param{{Name: "machine", Text: q.Name}, {Name: "instead-of", Text: s.Name}}})
		}
	}
	excess := r.Excess.DB() - over
	const screen = 10.0 // dB, all that a close solid screen gives; common practice, no source
	if excess <= screen {
		take := unit.Decibels(math.Ceil(excess))
		try(func(all []Sound) {
			for i := range all {
				all[i].Screen += take
			}
		}, rule.Remedy{Kind: "acoustic-screen", Words: "close solid screen that takes off " + take.String() + ", proved by its maker", Params: []rule.Param{{Name: "screen", Quantity: take}}})
	}
	factor := math.Pow(10, excess/20) * 1.01
	try(func(all []Sound) {
		for i := range all {
			all[i].Distance = unit.Metres(math.Ceil(all[i].Distance.M() * factor))
		}
	}, rule.Remedy{Kind: "more-distance", Words: "set the machines " + unit.Digits(factor, 2) + " times as far from the neighbour"})
	if len(list) == 0 {
		list = together(n, excess, over)
	}
	return list
}

// together puts a screen of 10 dB and the distance for the rest to the test, where
// neither alone will do.
func together(n Noise, excess, over float64) []rule.Remedy {
	x := n
	x.Sources = append([]Sound(nil), n.Sources...)
	factor := math.Pow(10, max(excess-10, 0)/20) * 1.01
	for i := range x.Sources {
		x.Sources[i].Screen += unit.Decibels(10)
		x.Sources[i].Distance = unit.Metres(min(math.Ceil(x.Sources[i].Distance.M()*factor), 100))
	}
	res, err := sizeNoise(x)
	if err != nil {
		return nil
	}
	a := judgeNoise(x, res, over)
	if a.Outcome != rule.Pass {
		return nil
	}
	return []rule.Remedy{{Kind: "screen-and-distance", Words: "a screen of 10 dB and " + unit.Digits(factor, 2) + " times the distance: rating " + unit.Fixed(res.Rating, 1), Need: a.Need, Have: a.Have}}
}
