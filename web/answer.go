package web

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/rule"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/say"
)

// answerView is what stands beside the enquiry: price, verdict, findings and how full
// each limit is. It is the house's view and never goes to a client.
type answerView struct {
	ID      string
	Trouble string // why nothing could be worked out
	NoPrice string // why there is no price, where the rest is worked out
	Gaps    []gapView
	Price   priceView
	Verdict verdict
	Kinds   []kindView
	Room    []string // what binds first, and what growth needs
	Full    []fullView
	Passed  int

	Gist, Judged, Priced, Grows part
}

type priceView struct {
	Net, Tax, Gross       string
	Margin, Percent, Cost string
	Floor                 string
	Below                 bool
	Valid                 string
	Needs                 []string
}

// verdict is the report in one line.
type verdict struct {
	Kind                             string // stop, unknown, warning or clear
	Words                            string
	Stops, Unknown, Warnings, Notice int
}

// gapView is a discipline that could not be worked out, and why.
type gapView struct{ Title, Words string }

// findingView is one open point: a rule with everything it says so of.
type findingView struct {
	part
	Kind, Word        string
	ID, Title, Source string
	Why               string
	Cases             []caseView
}

// kindView are the open points of one kind. Those nobody can answer yet are folded:
// they wait for facts, and the survey list asks for these.
type kindView struct {
	Kind, Words string
	Folded      bool
	Open        []findingView
}

// caseView is one subject of an open point.
type caseView struct {
	Subject, Words string
	Need, Have     string
	Bar            *bar
	Remedies       []string
	Mend           *mendView // nil where no remedy can be made by a key
}

// mendView asks for the remedies of one case that can be made with one key. They are
// tried only when somebody looks: each try checks the whole job again.
type mendView struct {
	ID, Rule, Subject string
	Kind              string
	Mends             []mendOption
	Tried             bool
}

// bar is a gauge drawn to scale: 100 is the limit, the drawing ends at 150.
type bar struct {
	Percent string
	Width   string // in the drawing's own units
	Kind    string // stop, warning or notice where the limit is passed; near; empty
}

// fullView is one discipline with its gauges, the fullest first.
type fullView struct {
	part
	Title string
	Gap   string // why it could not be worked out
	Worst gaugeView
	All   []gaugeView
}

type gaugeView struct {
	Name, Need, Have string
	Bar              bar
	rule             string
	severity         rule.Severity
	full             unit.Ratio
}

var disciplineWords = map[configurator.Discipline]string{
	configurator.Brewing: "Brewhouse and cellar", configurator.Cooling: "Cooling", configurator.Electrical: "Electrical supply",
	configurator.Floor: "Floor", configurator.Access: "Way in", configurator.Air: "Steam and carbon dioxide",
	configurator.Water: "Water and drainage", configurator.Pressure: "Pressure equipment", configurator.Programme: "Programme",
	configurator.Food: "Food safety",
}

func (s *Server) answer(d draft, o offer.Offer, makeErr error) answerView {
	v := answerView{ID: d.Project.ID}
	switch {
	case makeErr != nil && !checked(o):
		v.Trouble = makeErr.Error()
		v.Verdict = verdict{Kind: "unknown", Words: "Nothing can be worked out yet"}
		return v
	case makeErr != nil:
		v.NoPrice = makeErr.Error()
	default:
		v.Price = priceOf(o)
	}
	v.Verdict = verdictOf(o.Report)
	v.Passed = o.Report.Count().Passed
	for _, f := range o.Report.Open() {
		v.add(s.finding(d.Project.ID, f))
	}
	for _, g := range o.Report.Gaps {
		v.Gaps = append(v.Gaps, gapView{disciplineWords[g.Discipline], g.Words})
		v.add(findingView{Kind: "unknown", Word: "not known", Title: disciplineWords[g.Discipline] + " could not be worked out", Cases: []caseView{{Words: g.Words}}})
	}
	v.foldedWords()
	v.Room = headroom(o.Report)
	v.Full = fullness(o.Report)
	return v
}

// headroom says what fills up first and what the first step of growth that does not
// fit would need.
func headroom(r configurator.Report) []string {
	if r.Brewing == nil {
		return nil
	}
	out := []string{sentenceCase(r.Brewing.Bottleneck.Words)}
	for _, g := range r.Brewing.Growth {
		if !g.Fits {
			return append(out, sentenceCase(g.Words))
		}
	}
	return out
}

func priceOf(o offer.Offer) priceView {
	l := localeOf(o.Job)
	t, w := o.Quotation.Totals, o.Costs.Whole
	v := priceView{
		Net: t.Net.Format(l), Tax: t.Tax.Format(l), Gross: t.Gross.Format(l),
		Margin: w.Margin.Format(l), Percent: money.FormatPercent(w.Percent, l), Cost: w.Cost.Format(l), Floor: o.Costs.FloorPrice.Format(l),
		Below: o.Costs.FurtherDiscount.Sign() < 0, Valid: o.Quotation.ValidUntil.Long(l),
	}
	for _, n := range o.Costs.Needs {
		v.Needs = append(v.Needs, n.Says)
	}
	return v
}

// localeOf is the way a job's figures are written.
func localeOf(job offer.Job) money.Locale {
	if l, err := money.ParseLocale(job.Terms.Language); job.Terms.Language != "" && err == nil {
		return l
	}
	switch job.Site.Country {
	case "IE":
		return money.EnIE
	case "US":
		return money.EnUS
	}
	return money.EnGB
}

// checked tells whether the technical side of an offer was worked out, whatever became
// of its price.
func checked(o offer.Offer) bool { return len(o.Report.Findings)+len(o.Report.Gaps) > 0 }

// openDecisions counts the checks that would stop a job and cannot be answered yet, each
// once in however many places it is made.
func openDecisions(r configurator.Report) int {
	open := map[string]bool{}
	for _, f := range r.Findings {
		if f.Outcome == rule.Unknown && f.WaitingOn == "" && f.Rule.Severity == rule.Blocker {
			open[f.Rule.ID] = true
		}
	}
	return len(open)
}

// notYet says why nobody can say yet whether a job fits; empty where somebody can.
func notYet(r configurator.Report) string {
	var parts []string
	for _, g := range r.Gaps {
		parts = append(parts, strings.ToLower(disciplineWords[g.Discipline])+" could not be worked out")
	}
	switch n := openDecisions(r); n {
	case 0:
	case 1:
		parts = append(parts, "1 deciding check is open")
	default:
		parts = append(parts, fmt.Sprintf("%d deciding checks are open", n))
	}
	return strings.Join(parts, ", ")
}

func verdictOf(r configurator.Report) verdict {
	n := r.Count()
	v := verdict{Stops: n.Stops, Unknown: n.Unknown, Warnings: n.Warnings, Notice: n.Notices}
	switch {
	case len(r.Gaps) > 0: // what was not worked out may decide either way
		v.Kind, v.Words = "unknown", "Cannot be said yet: "+notYet(r)
	case n.Stops > 0:
		v.Kind, v.Words = "stop", "Does not fit yet"
	case notYet(r) != "":
		v.Kind, v.Words = "unknown", "Cannot be said yet: "+notYet(r)
	case n.Unknown > 0:
		v.Kind, v.Words = "unknown", "Fits as far as anybody knows"
	case n.Warnings > 0:
		v.Kind, v.Words = "warning", "Fits, with warnings"
	default:
		v.Kind, v.Words = "clear", "Fits"
	}
	return v
}

// add puts what one rule says of several subjects under one head.
func (v *answerView) add(f findingView) {
	at := slices.IndexFunc(v.Kinds, func(k kindView) bool { return k.Kind == f.Kind })
	if at < 0 {
		at = len(v.Kinds)
		v.Kinds = append(v.Kinds, kindView{Kind: f.Kind, Folded: f.Kind == "unknown"})
	}
	k := &v.Kinds[at]
	for i := range k.Open {
		if f.ID != "" && k.Open[i].ID == f.ID {
			k.Open[i].Cases = append(k.Open[i].Cases, f.Cases...)
			return
		}
	}
	k.Open = append(k.Open, f)
}

// counted gives a number with its name.
func counted(n int, name string) string {
	if n == 1 {
		return "1 " + name
	}
	return strconv.Itoa(n) + " " + name + "s"
}

// foldedWords head the open points that wait for facts: how many checks, and in how many
// places, which is what the counts under the verdict count.
func (v *answerView) foldedWords() {
	for i := range v.Kinds {
		k := &v.Kinds[i]
		places := 0
		for _, f := range k.Open {
			places += len(f.Cases)
		}
		k.Words = fmt.Sprintf("%s cannot be answered yet, in %s", counted(len(k.Open), "check"), counted(places, "place"))
	}
}

func (s *Server) finding(id string, f configurator.Finding) findingView {
	v := findingView{ID: f.Rule.ID, Title: f.Rule.Title, Why: f.Rule.Why}
	v.Kind, v.Word = kindOf(f.Finding)
	if f.Outcome == rule.Unknown {
		v.Title, v.Why = f.Rule.Compares, ""
	}
	if !f.Rule.Source.IsZero() {
		v.Source = f.Rule.Source.String()
	}
	c := caseView{Subject: f.Subject, Words: f.Words, Need: text(f.Need), Have: text(f.Have)}
	if full, ok := f.Fill(); ok && f.Outcome == rule.Fail {
		b := newBar(full, v.Kind)
		c.Bar = &b
	}
	for _, r := range f.Remedies {
		c.Remedies = append(c.Remedies, r.Words)
	}
	if s.Mends != nil && len(f.Remedies) > 0 {
		c.Mend = &mendView{ID: id, Rule: f.Rule.ID, Subject: f.Subject, Kind: v.Kind}
	}
	v.Cases = []caseView{c}
	return v
}

func kindOf(f rule.Finding) (kind, word string) {
	switch {
	case f.Outcome == rule.Unknown:
		return "unknown", "not known"
	case f.Rule.Severity == rule.Blocker:
		return "stop", "stops"
	case f.Rule.Severity == rule.Warning:
		return "warning", "warns"
	}
	return "notice", "to know"
}

func text(q unit.Quantity) string {
	if q == nil {
		return ""
	}
	return q.String()
}

func newBar(full unit.Ratio, kind string) bar {
	const drawn = 150
	pct := full.Pct()
	b := bar{Percent: unit.Fixed(unit.Percent(pct), 0), Width: fmt.Sprintf("%.1f", min(max(pct, 0), drawn))}
	switch {
	case kind != "":
		b.Kind = kind
	case pct > 90:
		b.Kind = "near"
	}
	return b
}

// fullness gives each discipline with what it fills, the fullest of each kind first. A
// limit that stops stands before one that only warns, whatever their figures: it is
// what the building decides on.
func fullness(r configurator.Report) []fullView {
	var out []fullView
	at := map[configurator.Discipline]int{}
	gap := func(d configurator.Discipline) bool {
		return slices.ContainsFunc(r.Gaps, func(g configurator.Gap) bool { return g.Discipline == d })
	}
	for _, l := range r.Loads() {
		if gap(l.Discipline) {
			continue
		}
		i, seen := at[l.Discipline]
		if !seen {
			i = len(out)
			at[l.Discipline] = i
			out = append(out, fullView{Title: disciplineWords[l.Discipline]})
		}
		out[i].All = append(out[i].All, gaugeOf(l))
	}
	for i := range out {
		sort.SliceStable(out[i].All, func(a, b int) bool { return out[i].All[a].before(out[i].All[b]) })
		out[i].All = fullest(out[i].All)
		out[i].Worst = out[i].All[0]
	}
	return append(notWorkedOut(r.Gaps), out...)
}

// fullest keeps as many of each kind as the lines of a supply; the list is in order.
func fullest(list []gaugeView) []gaugeView {
	const most = 3
	count := map[string]int{}
	return slices.DeleteFunc(list, func(g gaugeView) bool {
		count[g.rule]++
		return count[g.rule] > most
	})
}

func notWorkedOut(gaps []configurator.Gap) []fullView {
	out := make([]fullView, 0, len(gaps))
	for _, g := range gaps {
		out = append(out, fullView{Title: disciplineWords[g.Discipline], Gap: g.Words})
	}
	return out
}

func gaugeOf(l configurator.Load) gaugeView {
	kind := ""
	if l.Fails {
		kind, _ = kindOf(rule.Finding{Rule: l.Rule, Answer: rule.Answer{Outcome: rule.Fail}})
	}
	name := say.Capital(l.What)
	if l.Which != "" {
		name += ": " + l.Which
	}
	return gaugeView{Name: name, Need: text(l.Need), Have: text(l.Have), Bar: newBar(l.Full, kind), rule: l.Rule.ID, severity: l.Rule.Severity, full: l.Full}
}

func (g gaugeView) before(h gaugeView) bool {
	if g.severity != h.severity {
		return g.severity > h.severity
	}
	return g.full > h.full
}
