package web

import (
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/money"
)

func TestTheVerdictSaysWhatNobodyKnows(t *testing.T) {
	unknown := func(id string, s rule.Severity) configurator.Finding {
		return configurator.Finding{Finding: rule.Finding{Rule: rule.Info{ID: id, Severity: s}, Answer: rule.Answer{Outcome: rule.Unknown}}}
	}
	gap := configurator.Gap{Discipline: configurator.Access, Words: "the lift has no size"}
	for _, tt := range []struct {
		name         string
		r            configurator.Report
		desk, client string
	}{
		{"all known", configurator.Report{}, "Fits", "Fits"},
		{"a warning unknown", configurator.Report{Findings: []configurator.Finding{unknown("A", rule.Warning)}}, "Fits as far as anybody knows", "Fits as far as anybody knows"},
		{"two deciding", configurator.Report{Findings: []configurator.Finding{unknown("A", rule.Blocker), unknown("B", rule.Blocker), unknown("B", rule.Blocker)}}, "Cannot be said yet: 2 deciding checks are open", "Cannot be said yet: 2 points that decide it are still open"},
		{"a gap", configurator.Report{Gaps: []configurator.Gap{gap}}, "Cannot be said yet: way in could not be worked out", "Cannot be said yet: a part of the job could not be worked out"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := verdictOf(tt.r).Words; got != tt.desk {
				t.Errorf("the desk says %q", got)
			}
			if got := clientOfferOf(pricing.Quotation{}, tt.r, money.EnGB).Fits; got != tt.client {
				t.Errorf("the client reads %q", got)
			}
		})
	}
	full := fullness(configurator.Report{Gaps: []configurator.Gap{gap}})
	if len(full) != 1 || full[0].Title != "Way in" || !strings.Contains(full[0].Gap, "lift") {
		t.Errorf("the gauge of a gap is %+v", full)
	}
}
