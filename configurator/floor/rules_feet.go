package floor

import (
	"fmt"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// eachFoot answers for every piece on feet.
func eachFoot(f Facts, answer func(it *Item, row *ItemLoad) rule.Answer) []rule.Answer {
	out := make([]rule.Answer, 0, len(f.Result.Items))
	for i := range f.Result.Items {
		if row := &f.Result.Items[i]; row.Feet != nil && !row.MassUnknown {
			out = append(out, answer(&f.Input.Items[i], row))
		}
	}
	if len(out) == 0 {
		return []rule.Answer{rule.DoesNotApply("No piece stands on feet.")}
	}
	return out
}

// heaviestFoot is the piece with the heaviest feet, or nil.
func (f Facts) heaviestFoot() *ItemLoad {
	best := -1
	for i := range f.Result.Items {
		if row := &f.Result.Items[i]; row.Feet != nil && !row.MassUnknown && (best < 0 || row.Feet.Upper > f.Result.Items[best].Feet.Upper) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	return &f.Result.Items[best]
}

var footLoad = rule.Rule[Facts]{
	ID: "FL-030", Fills: "concentrated load", Severity: rule.Warning, Title: "A foot weighs more than the concentrated load given",
	Why:      "A foot can break through boards, a hollow pot or thin topping although the beams carry the tank.",
	Compares: "the largest foot at work or brim-full, estimated masses at their upper end, against the concentrated load on its patch",
	Source:   EN1991.Recalled("6.3.1.2: the concentrated load is a check of its own"), DependsOn: []string{"FL-002"},
	Check: func(f Facts) []rule.Answer {
		if top := f.heaviestFoot(); f.AllowPoint == nil && top != nil {
			return []rule.Answer{rule.Lacks("", fmt.Sprintf("The heaviest feet are those of %s: %s at work, %s brim-full%s, until shimmed up to %s; no concentrated load is given.", top.Tag, unit.Fixed(top.Feet.Operating, 2), unit.Fixed(top.Feet.Test, 2), top.upperFoot(), unit.Fixed(top.Feet.Bound, 2)), "AllowPoint")}
		}
		return eachFoot(f, func(it *Item, row *ItemLoad) rule.Answer {
			need, have := row.Feet.Upper, f.AllowPoint.Value
			words := fmt.Sprintf("Each foot of %s brings %s at work, %s brim-full%s; given is %s", row.Tag, unit.Fixed(row.Feet.Operating, 2), unit.Fixed(row.Feet.Test, 2), row.upperFoot(), unit.Fixed(have, 2))
			if need > have {
				return rule.Fails(row.Tag, need, have, words+": a local check is the engineer's.", moreFeet(it, row, have)...)
			}
			if f.Support != Ground && !f.AllowPoint.Settled() {
				return rule.Answer{Subject: row.Tag, Need: need, Have: have, Missing: []string{"AllowPoint"}, Words: words + "; the figure is not an engineer's."}
			}
			return rule.Passes(row.Tag, need, have, words+".")
		})
	},
}

// upperFoot says what the tolerance of the empty mass makes of the heaviest foot.
func (row *ItemLoad) upperFoot() string {
	if row.Tolerance == 0 {
		return ""
	}
	return fmt.Sprintf(", up to %s with %.0f %% on the empty mass", unit.Fixed(row.Feet.Upper, 2), row.Tolerance.Pct())
}

// moreFeet asks the works for as many feet as bring each within the figure.
func moreFeet(it *Item, row *ItemLoad, have unit.Force) []rule.Remedy {
	w := Weight(max(row.OperatingUpper, row.TestUpper))
	for _, n := range []int{6, 8} {
		if each := w / unit.Force(n); n > it.Feet.Count && each <= have {
			return []rule.Remedy{{
				Kind: "more-feet", Need: each, Have: have,
				Words:  fmt.Sprintf("Order %s on %d feet, shimmed to bear equally: %s each.", row.Tag, n, unit.Fixed(each, 2)),
				Params: []rule.Param{{Name: "item", Text: row.Tag}, {Name: "feet", Quantity: unit.Fraction(float64(n))}},
			}}
		}
	}
	return nil
}

var padPressure = rule.Rule[Facts]{
	ID: "FL-031", Severity: rule.Warning, Title: "The surface is crushed under a foot",
	Why:      "Feet sink in, the vessel leans, and water gets under the resin.",
	Compares: "foot load over its contact against what the surface takes",
	Source:   source.Practice("resin 45–55, concrete 20, sand-cement screed about 10, timber boards 1.5–2.5 MPa"),
	Check: func(f Facts) []rule.Answer {
		limit, known := BearingLimit(f.TopLayer)
		if top := f.heaviestFoot(); !known && top != nil {
			return []rule.Answer{rule.Lacks("", fmt.Sprintf("The feet of %s press with %s; what they stand on is not said.", top.Tag, unit.Fixed(top.Feet.Pad, 2)), "TopLayer")}
		}
		return eachFoot(f, func(it *Item, row *ItemLoad) rule.Answer {
			if row.Feet.Pad == 0 {
				return rule.Lacks(row.Tag, "The size of the foot plates of "+row.Tag+" is not known.", "Items["+row.Tag+"].Feet.Pad")
			}
			words := fmt.Sprintf("The foot of %s presses with %s on %s, which takes about %s", row.Tag, unit.Fixed(row.Feet.Pad, 2), f.TopLayer, unit.Fixed(limit, 1))
			if row.Feet.Pad <= limit {
				return rule.Passes(row.Tag, row.Feet.Pad, limit, words+".")
			}
			return rule.Fails(row.Tag, row.Feet.Pad, limit, words+".", plates(f, it, row, limit)...)
		})
	},
}

// SpreadPatch is the patch under a steel plate on which a foot of the given contact
// stands: the contact and three thicknesses of projection on each side, never more
// than the plate, for a thicker projection bends up (common practice, no source).
func SpreadPatch(contact unit.Length, p Plate) (a, b unit.Length, err error) {
	if err := unit.Positive("contact", contact); err != nil {
		return 0, 0, err
	}
	if err := unit.Positive("plate thickness", p.Thickness); err != nil {
		return 0, 0, err
	}
	spread := contact + 6*p.Thickness
	return min(spread, p.A), min(spread, p.B), nil
}

func plates(f Facts, it *Item, row *ItemLoad, limit unit.Stress) []rule.Remedy {
	for _, p := range f.Plates {
		a, b, err := SpreadPatch(it.Feet.Pad, p)
		if err != nil || a < it.Feet.Pad || b < it.Feet.Pad {
			continue
		}
		if got := unit.StressPa(float64(max(row.Feet.Operating, row.Feet.Test)) / (a.M() * b.M())); got <= limit {
			return []rule.Remedy{{
				Kind: "spreading-plate", Need: got, Have: limit,
				Words:  fmt.Sprintf("Put a spreading plate %s (%.0f × %.0f × %.0f mm) under each foot of %s: %s.", p.Code, p.A.MM(), p.B.MM(), p.Thickness.MM(), row.Tag, unit.Fixed(got, 2)),
				Params: []rule.Param{{Name: "item", Text: row.Tag}, {Name: "product", Text: p.Code}, {Name: "count", Quantity: unit.Fraction(float64(it.Feet.Count))}},
			}}
		}
	}
	return nil
}

var unevenFloor = rule.Rule[Facts]{
	ID: "FL-032", Severity: rule.Notice, Title: "Two feet may carry a vessel until it is shimmed",
	Why:      "Four legs on an uneven floor rock: two diagonal feet take half the weight each.",
	Compares: "the foot load before shimming against the concentrated load",
	Source:   source.Derivation("four supports are statically indeterminate"), DependsOn: []string{"FL-030"},
	Check: func(f Facts) []rule.Answer {
		top, over, settled := f.heaviestFoot(), []string(nil), unit.Force(0)
		if top == nil || f.AllowPoint == nil {
			return []rule.Answer{rule.DoesNotApply("No piece stands on feet, or no concentrated load is given.")}
		}
		have := f.AllowPoint.Value
		for i := range f.Result.Items {
			row := &f.Result.Items[i]
			if row.Feet == nil {
				continue
			}
			if row.Feet.Bound > top.Feet.Bound {
				top = row
			}
			if row.Feet.Bound > have {
				over, settled = append(over, row.Tag), max(settled, row.Feet.Leaning)
			}
		}
		if over == nil {
			return []rule.Answer{rule.Passes("", top.Feet.Bound, have, fmt.Sprintf("Even before shimming no foot gets more than %s.", unit.Fixed(top.Feet.Bound, 2)))}
		}
		a := rule.Fails(strings.Join(over, ", "), top.Feet.Bound, have, fmt.Sprintf("Until shimmed and grouted a foot of %s may get up to %s; given are %s. Fill only after the feet are shimmed, checked for equal bearing and grouted.", strings.Join(over, ", "), unit.Fixed(top.Feet.Bound, 2), unit.Fixed(have, 2)))
		if settled <= have {
			a.Remedies = []rule.Remedy{{
				Kind: "shim-and-grout", Need: settled, Have: have,
				Words: fmt.Sprintf("Shim to equal bearing, then grout, before filling: %s at the levelling tolerance.", unit.Fixed(settled, 2)),
			}}
		}
		return []rule.Answer{a}
	},
}

var tipping = rule.Rule[Facts]{
	ID: "FL-033", Severity: rule.Warning, Title: "A piece can be pulled over while empty",
	Why:      "A pipe pull or a push at height tips an empty vessel on its feet.",
	Compares: "horizontal force times height against two thirds of own empty mass times its lever",
	Source:   source.Practice("anchor when the moment passes the holding moment over 1.5"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for i := range f.Result.Items {
			row, it := &f.Result.Items[i], &f.Input.Items[i]
			if row.Feet == nil || it.Horizontal == 0 {
				continue
			}
			hold := unit.Moment(float64(row.HoldMoment) / 1.5)
			words := fmt.Sprintf("%s: %s against %s", row.Tag, unit.Fixed(row.TipMoment, 2), unit.Fixed(hold, 2))
			if row.TipMoment > hold && !it.Anchored {
				out = append(out, rule.Fails(row.Tag, row.TipMoment, hold, words+".", rule.Remedy{Kind: "anchor", Words: "Anchor the feet of " + row.Tag + "; the fixing is the engineer's to design.", Need: row.TipMoment, Have: hold, Params: []rule.Param{{Name: "item", Text: row.Tag}}}))
				continue
			}
			out = append(out, rule.Passes(row.Tag, row.TipMoment, hold, words+"."))
		}
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No piece is pulled or pushed sideways by what is entered. In earthquake zones the anchors are the engineer's.")}
		}
		return out
	},
}

// The natural frequency of floors that people feel (from memory).
const lowResonance, highResonance = 4.0, 8.0

var vibration = rule.Rule[Facts]{
	ID: "FL-034", Severity: rule.Notice, Title: "A machine turns at the speed at which floors swing",
	Why:      "Floors of long span swing at 4 to 8 Hz; a machine of that speed shakes the room and loosens fittings.",
	Compares: "speed of turning parts against 4 to 8 Hz",
	Source:   source.Practice("range of floor frequencies"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for i := range f.Input.Items {
			it := &f.Input.Items[i]
			if it.Speed == 0 {
				continue
			}
			hz := it.Speed.Hz()
			words := fmt.Sprintf("%s turns at %.1f Hz", it.Tag, hz)
			if f.Support != Ground && hz >= lowResonance && hz <= highResonance {
				out = append(out, rule.Fails(it.Tag, it.Speed, unit.Hertz(lowResonance), words+": the engineer should know."))
			} else {
				out = append(out, rule.Passes(it.Tag, it.Speed, nil, words+"."))
			}
		}
		if out == nil {
			return []rule.Answer{rule.DoesNotApply("No machine with a stated speed stands on the floor.")}
		}
		return out
	},
}
