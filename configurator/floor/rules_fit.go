package floor

import (
	"fmt"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
	"tunwright/configurator/rule"
)

// FireOrder is the law of England and Wales on ways out of workplaces.
var FireOrder = source.Doc{ID: "Fire Safety Order 2005", Title: "Regulatory Reform (Fire Safety) Order 2005", Edition: "England and Wales"}

// fitRule makes a rule out of the plan's conflicts of some kinds.
func fitRule(id string, severity rule.Severity, title, why, compares string, src source.Ref, words func(plan.Conflict) string, kinds ...plan.Kind) rule.Rule[Facts] {
	return rule.Rule[Facts]{
		ID: id, Severity: severity, Title: title, Why: why, Compares: compares, Source: src,
		Check: func(f Facts) []rule.Answer {
			if len(f.Room.Outline) < 3 {
				return []rule.Answer{rule.Lacks("", "The outline of the room is not known.", "Room.Outline")}
			}
			var out []rule.Answer
			for _, c := range f.Conflicts {
				for _, k := range kinds {
					if c.Kind != k {
						continue
					}
					a := rule.Fails(c.A, c.Need, c.Have, words(c))
					a.Remedies = refit(f, c)
					out = append(out, a)
				}
			}
			if out == nil {
				return []rule.Answer{rule.Passes("", nil, nil, "No placed piece is in the way here.")}
			}
			return out
		},
	}
}

func fitRules() []rule.Rule[Facts] {
	clash := func(c plan.Conflict) string {
		switch {
		case c.Kind == plan.KindOutline && c.Have < 0:
			return fmt.Sprintf("%s reaches %.0f mm into the wall.", c.A, -c.Have.MM())
		case c.Kind == plan.KindOutline:
			return fmt.Sprintf("%s stands %.0f mm from the wall; %.0f mm are wanted.", c.A, c.Have.MM(), c.Need.MM())
		case c.Kind == plan.KindColumn:
			return fmt.Sprintf("%s stands %.0f mm from column %s; %.0f mm are wanted.", c.A, c.Have.MM(), c.B, c.Need.MM())
		case c.Kind == plan.KindFront:
			return fmt.Sprintf("Before %s only %.0f mm are free; %.0f mm are wanted.", c.A, c.Have.MM(), c.Need.MM())
		case c.Kind == plan.KindService:
			return fmt.Sprintf("%s stands %.0f mm inside the service space of %s.", c.A, -c.Have.MM(), c.B)
		}
		return fmt.Sprintf("%s and %s overlap by %.0f mm.", c.A, c.B, -c.Have.MM())
	}
	return []rule.Rule[Facts]{
		placed,
		fitRule("FL-101", rule.Blocker, "Two bodies stand in one place", "It cannot be built.", "bodies against each other", source.Derivation("geometry"), clash, plan.KindOverlap),
		fitRule("FL-102", rule.Warning, "A piece stands too near a wall or column", "Nobody can clean or reach behind it; or it does not fit at all.", "gap against the clearance of the piece", source.Practice("300 mm behind without access, 600 mm with"), clash, plan.KindOutline, plan.KindColumn),
		fitRule("FL-103", rule.Warning, "Service space is taken", "A rake, a heat exchanger or a manway cannot be drawn or opened.", "each body against the service space of the others", source.Practice("600 mm at the side for service, 1000 mm before fermenters; the maker's figures go before"), clash, plan.KindService, plan.KindFront),
		fitRule("FL-104", rule.Warning, "A door is blocked", "The door does not open, or the way out is lost.", "bodies against door leaves and the 0.9 m behind a doorway", source.Practice("clear ground at a door"), func(c plan.Conflict) string {
			if c.Kind == plan.KindSwing {
				return fmt.Sprintf("%s stands in the sweep of door %s.", c.A, c.B)
			}
			return fmt.Sprintf("%s stands before door %s.", c.A, c.B)
		}, plan.KindSwing, plan.KindDoorway),
		fitRule("FL-105", rule.Warning, "The working space of an electrical board is taken", "Work at a live board needs room to step back; a blocked board cannot be switched off in time.", "bodies against the free depth before each board", source.Practice("Electricity at Work Regulations, reg. 15 ask for adequate space; 1000 mm is the habit, NEC 110.26 gives 914 mm to 150 V"), func(c plan.Conflict) string {
			return fmt.Sprintf("%s leaves %.0f mm before board %s; %.0f mm are wanted.", c.A, c.Have.MM(), c.B, c.Need.MM())
		}, plan.KindBoard),
		keptClear,
		ceiling,
		fitRule("FL-107", rule.Warning, "There is no room over a piece for service", "A cleaning arm or a relief valve cannot be drawn upwards.", "height and service height against the clear height", source.Practice("300 mm, better 600 mm over a tank"), func(c plan.Conflict) string {
			return fmt.Sprintf("%s needs %.0f mm with its service height, free are %.0f mm %s.", c.A, c.Need.MM(), c.Have.MM(), under(c.B))
		}, plan.KindAbove),
		escapeWays,
	}
}

// onKept answers for bodies on ground that must stay free.
var onKept = fitRule("FL-108", rule.Blocker, "A piece stands on ground that must stay free", "An escape way, a fork-lift way or the place before a switchboard is lost to everyone who counts on it.", "bodies against the ground to keep clear",
	FireOrder.Recalled("article 14(1): routes to emergency exits are kept clear at all times"), func(c plan.Conflict) string {
		return fmt.Sprintf("%s stands %.0f mm inside %s, which must stay free.", c.A, -c.Have.MM(), c.B)
	}, plan.KindKeep)

var keptClear = rule.Rule[Facts]{
	ID: onKept.ID, Severity: onKept.Severity, Title: onKept.Title, Why: onKept.Why, Compares: onKept.Compares, Source: onKept.Source,
	Check: func(f Facts) []rule.Answer {
		if len(f.Room.Keep) == 0 {
			return []rule.Answer{rule.DoesNotApply("No ground to keep clear is entered.")}
		}
		return onKept.Check(f)
	},
}

func under(name string) string {
	if name == "" {
		return "under the ceiling"
	}
	return "under " + name
}

// refit looks for the nearest place that is free.
func refit(f Facts, c plan.Conflict) []rule.Remedy {
	if c.Kind == plan.KindAbove || c.Kind == plan.KindCeiling {
		return nil
	}
	items, which := f.planItems(c.A)
	if which < 0 || items[which].Fixed {
		return nil
	}
	to, ok := plan.Nearest(&f.Room, items, which)
	if !ok {
		return nil
	}
	return []rule.Remedy{moveTo(c.A, to, fmt.Sprintf("Move %s to x %.2f, y %.2f: every clearance is then kept.", c.A, to.At.X.M(), to.At.Y.M()))}
}

var placed = rule.Rule[Facts]{
	ID: "FL-100", Severity: rule.Warning, Title: "A piece has no place in the room",
	Why: "Without a place neither loads nor clearances can be judged; where none is free, the room is too small.", Compares: "pieces with a place, or with a free one",
	Source: source.Derivation("what is not placed is not judged"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for _, c := range f.Conflicts {
			if c.Kind == plan.KindUnplaced {
				out = append(out, seek(f, c.A))
			}
		}
		if out == nil {
			return []rule.Answer{rule.Passes("", nil, nil, "Every piece has its place.")}
		}
		return out
	},
}

// seek looks for a free place for a piece that has none.
func seek(f Facts, tag string) rule.Answer {
	items, which := f.planItems(tag)
	field := "Items[" + tag + "].Place"
	if which < 0 || len(f.Room.Outline) < 3 {
		return rule.Lacks(tag, tag+" has no place yet.", field)
	}
	at, ok := plan.Free(&f.Room, items, which)
	if !ok {
		return rule.Fails(tag, nil, nil, tag+" finds no free place in the room that keeps clearances, doors and ceiling.")
	}
	a := rule.Lacks(tag, tag+" has no place yet; there is room for it.", field)
	a.Remedies = []rule.Remedy{moveTo(tag, at, fmt.Sprintf("Put %s at x %.2f, y %.2f: every clearance is kept there.", tag, at.At.X.M(), at.At.Y.M()))}
	return a
}

func moveTo(tag string, at plan.Place, words string) rule.Remedy {
	return rule.Remedy{
		Kind: "move-item", Words: words,
		Params: []rule.Param{{Name: "item", Text: tag}, {Name: "x", Quantity: at.At.X}, {Name: "y", Quantity: at.At.Y}, {Name: "turn", Quantity: at.Turn}},
	}
}

// planItems gives the pieces as the plan sees them, and which one has the tag.
func (f Facts) planItems(tag string) (items []plan.Item, which int) {
	items, which = make([]plan.Item, len(f.Input.Items)), -1
	for i := range f.Input.Items {
		items[i] = f.Input.Items[i].Item
		if items[i].Tag == tag {
			which = i
		}
	}
	return items, which
}

var ceiling = rule.Rule[Facts]{
	ID: "FL-106", Fills: "clear height", Severity: rule.Blocker, Title: "A piece is higher than the room",
	Why: "It cannot stand there.", Compares: "height over everything against the clear height at its place",
	Source: source.Derivation("geometry"),
	Check: func(f Facts) []rule.Answer {
		var out []rule.Answer
		for _, c := range f.Conflicts {
			switch c.Kind {
			case plan.KindNoHeight:
				out = append(out, rule.Lacks(c.A, fmt.Sprintf("%s is %.0f mm high; the clear height of the room is not known.", c.A, c.Need.MM()), "Room.Clear"))
			case plan.KindCeiling:
				a := rule.Fails(c.A, c.Need, c.Have, fmt.Sprintf("%s is %.0f mm high, free are %.0f mm %s.", c.A, c.Need.MM(), c.Have.MM(), under(c.B)))
				a.Remedies = lower(f, c)
				out = append(out, a)
			}
		}
		if out == nil {
			return []rule.Answer{rule.Passes("", nil, nil, "Every piece stands under the ceiling.")}
		}
		return out
	},
}

// lower lists alternatives that stand under the ceiling.
func lower(f Facts, c plan.Conflict) []rule.Remedy {
	var out []rule.Remedy
	for i := range f.Input.Items {
		it := &f.Input.Items[i]
		if it.Tag != c.A {
			continue
		}
		for _, a := range it.Alternatives {
			if a.Height > 0 && a.Height <= c.Have {
				out = append(out, rule.Remedy{
					Kind: "other-product", Need: a.Height, Have: c.Have,
					Words:  fmt.Sprintf("Take %d × %s (%s) for %s: %.0f mm high.", max(a.Count, 1), a.Name, a.Code, it.Tag, a.Height.MM()),
					Params: []rule.Param{{Name: "item", Text: it.Tag}, {Name: "product", Text: a.Code}, {Name: "count", Quantity: unit.Fraction(float64(max(a.Count, 1)))}},
				})
			}
		}
	}
	return out
}

var escapeWays = rule.Rule[Facts]{
	ID: "FL-110", Severity: rule.Warning, Title: "A way out is too narrow or cut off",
	Why: "In steam, CO₂ or fire people must reach an exit from every working place.", Compares: "a way of the asked width from each piece's front to an exit",
	Source: plan.ADB.At("table 2.3"),
	Check: func(f Facts) []rule.Answer {
		switch e := f.Escape; {
		case f.Room.Persons == nil:
			return []rule.Answer{rule.Lacks("", "How many persons may be in the room is not known.", "Room.Persons")}
		case e.Exits == 0:
			return []rule.Answer{rule.Lacks("", "No door is marked as an exit.", "Room.Doors.Exit")}
		case len(e.CutOff) > 0:
			return []rule.Answer{rule.Fails(strings.Join(e.CutOff, ", "), e.Width, unit.Length(0), fmt.Sprintf("From the front of %s no way of %.0f mm leads to an exit.", strings.Join(e.CutOff, ", "), e.Width.MM()))}
		case len(e.Blocked) > 0:
			return []rule.Answer{rule.Fails(strings.Join(e.Blocked, ", "), e.Width, unit.Length(0), "Exit "+strings.Join(e.Blocked, ", ")+" cannot be reached at the asked width.")}
		default:
			return []rule.Answer{rule.Passes("", e.Width, nil, fmt.Sprintf("From every working place a way of %.0f mm leads to an exit; the fire strategy of the building is the approver's.", e.Width.MM()))}
		}
	},
}
