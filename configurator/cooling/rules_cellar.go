package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

const leastApproach = 3.0 // K

var reach = rule.Rule[Facts]{
	ID: "CO-005", Severity: rule.Blocker,
	Title:    "The glycol is too warm for the temperature wanted",
	Why:      "The last kelvins come ever more slowly: with less than 3 K between beer and glycol the jacket only balances what leaks in.",
	Compares: "coldest temperature wanted in the tank against glycol supply and 3 K",
	Source:   source.Derivation("batch cooling against a finite glycol flow"),
	Check:    mended(judgeReach, []option{colderGlycol, colderChiller}, judgeLeaving, judgeCovers),
}

func judgeReach(f Facts) []rule.Answer {
	least := unit.Celsius(f.Result.Fluid.Supply.C() + leastApproach)
	var answers []rule.Answer
	for i := range f.Result.Tanks {
		if t := &f.Result.Tanks[i]; t.Hold < least && t.JacketFlow > 0 {
			answers = append(answers, rule.Fails(t.Tag, least, t.Hold, t.Tag+" is wanted at "+t.Hold.String()+"; glycol at "+f.Result.Fluid.Supply.String()+" reaches "+least.String()))
		}
	}
	for i := range f.Result.Crashes {
		if c := &f.Result.Crashes[i]; !c.Reached && c.To >= least {
			answers = append(answers, rule.Fails(c.Tank, c.To, nil, c.Tank+" never reaches "+c.To.String()+": the gain through its skin balances the jacket"))
		}
	}
	if answers == nil {
		return one(rule.Passes("", f.Result.Fluid.Coldest, least, "the coldest tank at "+f.Result.Fluid.Coldest.String()+" lies above "+least.String()))
	}
	return answers
}

// rampGrace is how much longer than wished a ramp may take: the tail in which the
// jacket, and no longer the ramp, decides.
const rampGrace = 1.10

var crashTime = rule.Rule[Facts]{
	ID: "CO-006", Severity: rule.Warning,
	Title:     "The jacket is too small for the crash wanted",
	Why:       "The tank is not free on the day the plan says, and the next batch waits.",
	Compares:  "time to cool down through the real jacket against the time allowed and a tenth",
	Source:    docKern.At("batch cooling with a non-isothermal medium"),
	DependsOn: []string{"CO-005"},
	Check:     mended(judgeCrash, []option{largerJacket, slowerCrash, colderGlycol}, judgeLeaving, judgeCovers, judgeCapacity),
}

func judgeCrash(f Facts) []rule.Answer {
	if len(f.Result.Crashes) == 0 {
		return one(rule.DoesNotApply("no tank is cooled down"))
	}
	answers := unknownJackets(f)
	worst := &f.Result.Crashes[0]
	for i := range f.Result.Crashes {
		c := &f.Result.Crashes[i]
		if c.Ramped.H()*worst.Wish.H() > worst.Ramped.H()*c.Wish.H() {
			worst = c
		}
		if c.Reached && c.Ramped.H() <= c.Wish.H()*rampGrace || answered(answers, c.Tank) {
			continue
		}
		answers = append(answers, rule.Fails(c.Tank, c.Ramped, c.Wish, crashWords(c)))
	}
	if answers == nil {
		return one(rule.Passes("", worst.Ramped, worst.Wish, crashWords(worst)))
	}
	return answers
}

// unknownJackets answers for tanks whose jacket is assumed: they never pass.
func unknownJackets(f Facts) (answers []rule.Answer) {
	for i := range f.Input.Tanks {
		t := &f.Input.Tanks[i]
		if t.JacketBody+t.JacketCone > 0 {
			continue
		}
		for k := range f.Result.Crashes {
			if c := &f.Result.Crashes[k]; c.Tank == t.Tag {
				answers = append(answers, rule.Lacks(t.Tag, "the jacket of "+t.Tag+" is unknown; with "+f.Result.Tanks[i].Jacket.String()+" "+crashWords(c), "Tanks[].JacketBody"))
				break
			}
		}
	}
	return answers
}

func crashWords(c *CrashResult) string {
	return c.Tank + " takes " + c.Ramped.String() + " from " + c.From.String() + " to " + c.To.String() + "; " + c.Wish.String() + " are allowed"
}

func answered(answers []rule.Answer, subject string) bool {
	for i := range answers {
		if answers[i].Subject == subject {
			return true
		}
	}
	return false
}

const longestWait = 24.0 // h

var crashWait = rule.Rule[Facts]{
	ID: "CO-028", Severity: rule.Warning,
	Title:     "A tank waits too long for its crash",
	Why:       "While it waits, the beer lies warm on its yeast, and the tank is not free for the next brew.",
	Compares:  "longest wait under the interlock against a day",
	Source:    source.Practice("a day's delay upsets no plan"),
	DependsOn: []string{"CO-005"},
	Check:     mended(judgeWait, []option{oneCrashMore}, judgeCapacity),
}

func judgeWait(f Facts) []rule.Answer {
	if f.Input.CrashAtOnce == nil || len(f.Result.Crashes) == 0 {
		return one(rule.DoesNotApply("no interlock limits the crashes"))
	}
	need, have := f.Result.Load.Postponed, unit.Hours(longestWait)
	words := "with " + unit.PureNumber(float64(f.Result.Load.CrashAtOnce)).String() + " at once, a tank waits up to " + need.String()
	if need > have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}

var openValves = rule.Rule[Facts]{
	ID: "CO-007", Fills: "chiller and store at the first draw", Severity: rule.Warning,
	Title:     "Open crash valves draw more than the chiller gives",
	Why:       "A fully open jacket on a warm tank draws several times the mean; the supply warms for every other tank.",
	Compares:  "first draw of the tanks crashed at once against output and store over an hour",
	Source:    source.Derivation("jacket with its glycol flow at the first temperature difference"),
	DependsOn: []string{"CO-018"},
	Check:     mended(judgeValves, []option{rampSetPoints, oneCrash}),
}

func judgeValves(f Facts) []rule.Answer {
	s, c := f.Result.Load, f.Result.Chiller
	if len(f.Result.Crashes) == 0 {
		return one(rule.DoesNotApply("no tank is cooled down"))
	}
	if f.Input.Ramped != nil && *f.Input.Ramped {
		return one(rule.Passes("", s.Duty, c.Capacity, "set points are lowered by a ramp: the first draw of "+s.OpenValves.String()+" does not come"))
	}
	have := c.Capacity + unit.Watts(f.Result.Store.Energy.J()/3600)
	words := "the first draw of the open valves is " + s.OpenValves.String() + "; chiller and store give " + have.String()
	if s.OpenValves > have {
		return one(rule.Fails("", s.OpenValves, have, words))
	}
	return one(rule.Passes("", s.OpenValves, have, words))
}

var entering = rule.Rule[Facts]{
	ID: "CO-019", Severity: rule.Warning,
	Title:     "On a first crash the glycol comes back too warm for the chiller",
	Why:       "Above its highest entering temperature the chiller trips on high pressure, just when it is needed.",
	Compares:  "mixed return while crash valves stand open against the chiller's highest entering temperature",
	Source:    source.Derivation("heat balance of the return; limit stated by the maker"),
	DependsOn: []string{"CO-018"},
	Check:     mended(judgeEntering, []option{rampSetPoints, oneCrash}),
}

func judgeEntering(f Facts) []rule.Answer {
	if f.Input.Ramped != nil && *f.Input.Ramped {
		return one(rule.Passes("", f.Result.Fluid.Return, nil, "set points are lowered by a ramp: the return stays at "+f.Result.Fluid.Return.String()))
	}
	if f.Input.Chiller.MaxEntering == nil {
		return one(rule.Lacks("", "the chiller's highest entering temperature is unknown", "Chiller.MaxEntering"))
	}
	need, have := f.Result.Chiller.Entering, *f.Input.Chiller.MaxEntering
	words := "mixed return " + need.String() + ", chiller takes " + have.String()
	if need > have {
		return one(rule.Fails("", need, have, words))
	}
	return one(rule.Passes("", need, have, words))
}
