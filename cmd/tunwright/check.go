package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/rule"
	"tunwright/pricing/offer"
)

type checkCmd struct {
	catalogueFlags
	firmFlags
	File string `arg:"" optional:"" help:"Enquiry file; left out, the built-in demo."`
	JSON bool   `help:"Print JSON instead of a table."`
	All  bool   `help:"Also print what is in order."`
}

func (checkCmd) Help() string {
	return `Examples:
  tunwright check                 the built-in demo
  tunwright check farm.yaml       what fails, what is unknown, what would mend it
  tunwright check farm.yaml --all --json > report.json

Exit code 1 tells that a stopping finding stands.`
}

// Run checks an enquiry and prints what it found.
func (c checkCmd) Run(con *console) error {
	cat, err := c.catalogue()
	if err != nil {
		return err
	}
	firm, _, err := c.firm()
	if err != nil {
		return err
	}
	house := offer.House{Firm: firm, Catalogue: cat}
	job, err := readJob(c.File)
	if err != nil {
		return err
	}
	if job.Project, err = configurator.Arrange(job.Project, cat); err != nil {
		return err
	}
	r, err := configurator.Check(offer.WithTerm(job, house).Project, cat)
	if err != nil {
		return err
	}
	if c.JSON {
		err = printReportJSON(con.out, r, c.All)
	} else {
		err = printReport(con.out, r, c.All)
	}
	if err != nil {
		return err
	}
	if r.Stopped() {
		return errStopped
	}
	return nil
}

func printReport(out io.Writer, r configurator.Report, all bool) error {
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "RULE\tANSWER\tON\tNEED\tHAVE\tFULL")
	for _, g := range r.OpenGroups() {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", g.Rule.ID, answerWord(g.Finding), shortSubjects(g), text(g.Need), text(g.Have), fill(g.Finding))
	}
	if all {
		for _, f := range r.Findings {
			if f.Outcome == rule.Pass || f.Outcome == rule.NotApplicable || f.WaitingOn != "" {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", f.Rule.ID, answerWord(f), f.Subject, text(f.Need), text(f.Have), fill(f))
			}
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	for _, g := range r.OpenGroups() {
		printGroup(out, g)
	}
	for _, g := range r.Gaps {
		fmt.Fprintf(out, "\n%s was not worked out: %s\n", g.Discipline, g.Words)
	}
	n := r.Count()
	fmt.Fprintf(out, "\n%d stop, %d warn, %d notices, %d unknown, %d waiting, %d in order.\n", n.Stops, n.Warnings, n.Notices, n.Unknown, n.Waiting, n.Passed)
	return nil
}

func printGroup(out io.Writer, g configurator.Group) {
	fmt.Fprintf(out, "\n%s  %s\n    %s\n", g.Rule.ID, g.Rule.Title, wrapped(g.Words))
	if len(g.Members) > 1 {
		fmt.Fprintf(out, "    on: %s\n", wrapped(g.Subjects()))
	}
	for _, m := range g.Remedies() {
		fmt.Fprintf(out, "    mend: %s\n", wrapped(m.Words))
	}
	if missing := g.Missing(); len(missing) > 0 {
		fmt.Fprintf(out, "    missing: %s\n", wrapped(strings.Join(missing, ", ")))
	}
}

// shortSubjects keeps the table narrow: one name, and how many more there are.
func shortSubjects(g configurator.Group) string {
	if len(g.Members) == 1 {
		return g.Subject
	}
	return fmt.Sprintf("%s and %d more", g.Subject, len(g.Members)-1)
}

func answerWord(f configurator.Finding) string {
	switch {
	case f.WaitingOn != "":
		return "waits on " + f.WaitingOn
	case f.Outcome == rule.Fail:
		return f.Rule.Severity.String()
	}
	return f.Outcome.String()
}

func text(q unit.Quantity) string {
	if q == nil {
		return ""
	}
	return q.String()
}

func fill(f configurator.Finding) string {
	if x, ok := f.Fill(); ok && x.Pct() < 10000 {
		return fmt.Sprintf("%.0f%%", x.Pct())
	}
	return ""
}

// wrapped breaks a sentence for a terminal of 100 columns.
func wrapped(s string) string {
	const width = 92
	var b strings.Builder
	at := 0
	for _, word := range strings.Fields(s) {
		n := len([]rune(word))
		switch {
		case at == 0:
		case at+1+n > width:
			b.WriteString("\n    ")
			at = 0
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += n
	}
	return b.String()
}

// The JSON form of a report.
type reportJSON struct {
	Title    string             `json:"title"`
	Count    countJSON          `json:"count"`
	Findings []findingJSON      `json:"findings"`
	Gaps     []configurator.Gap `json:"gaps,omitempty"`
}

type countJSON struct {
	Stop     int `json:"stop"`
	Warning  int `json:"warning"`
	Notice   int `json:"notice"`
	Unknown  int `json:"unknown"`
	Waiting  int `json:"waiting"`
	InOrder  int `json:"in_order"`
	NotApply int `json:"does_not_apply"`
}

type findingJSON struct {
	Rule       string       `json:"rule"`
	Discipline string       `json:"discipline"`
	Severity   string       `json:"severity"`
	Outcome    string       `json:"outcome"`
	Subject    string       `json:"subject,omitempty"`
	Title      string       `json:"title"`
	Words      string       `json:"words"`
	Need       *namedNumber `json:"need,omitempty"`
	Have       *namedNumber `json:"have,omitempty"`
	Full       *float64     `json:"full,omitempty"`
	Missing    []string     `json:"missing,omitempty"`
	Remedies   []string     `json:"remedies,omitempty"`
	WaitingOn  string       `json:"waiting_on,omitempty"`
	Source     string       `json:"source"`
}

func printReportJSON(out io.Writer, r configurator.Report, all bool) error {
	n := r.Count()
	doc := reportJSON{
		Title: r.Project.Title, Gaps: r.Gaps, Findings: []findingJSON{},
		Count: countJSON{n.Stops, n.Warnings, n.Notices, n.Unknown, n.Waiting, n.Passed, n.NotApplicable},
	}
	list := r.Open()
	if all {
		list = r.Findings
	}
	for _, f := range list {
		doc.Findings = append(doc.Findings, toJSON(f))
	}
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(doc)
}

func toJSON(f configurator.Finding) findingJSON {
	j := findingJSON{
		Rule: f.Rule.ID, Discipline: string(f.Discipline), Severity: f.Rule.Severity.String(), Outcome: f.Outcome.String(), Subject: f.Subject,
		Title: f.Rule.Title, Words: f.Words, Missing: f.Missing, WaitingOn: f.WaitingOn, Source: f.Rule.Source.String(),
	}
	if f.Need != nil {
		n := named("", f.Need)
		j.Need = &n
	}
	if f.Have != nil {
		n := named("", f.Have)
		j.Have = &n
	}
	if x, ok := f.Fill(); ok {
		v := x.Value()
		j.Full = &v
	}
	for _, m := range f.Remedies {
		j.Remedies = append(j.Remedies, m.Words)
	}
	return j
}
