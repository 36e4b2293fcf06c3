package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"tunwright/configurator"
	"tunwright/configurator/rule"
)

type rulesCmd struct {
	Search string `arg:"" optional:"" help:"Only rules whose id, title or source holds this text."`
}

func (rulesCmd) Help() string {
	return `Examples:
  tunwright rules           all rules
  tunwright rules chiller   those that speak of the chiller
  tunwright rules EL-       the electrical ones`
}

// Run lists the rules in print order.
func (c rulesCmd) Run(con *console) error {
	w := tabwriter.NewWriter(con.out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "ID\tSEVERITY\tFAILS WHEN")
	n := 0
	for _, r := range configurator.Rules() {
		if !mentions(r, c.Search) {
			continue
		}
		n++
		fmt.Fprintf(w, "%s\t%s\t%s\n", r.ID, r.Severity, r.Title)
	}
	if n == 0 {
		return fmt.Errorf("no rule speaks of %q: tunwright rules lists all", c.Search)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(con.out, "\n%d rules. tunwright explain ID tells more of one.\n", n)
	return nil
}

func mentions(r rule.Info, text string) bool {
	all := strings.ToLower(r.ID + " " + r.Title + " " + r.Compares + " " + r.Source.String())
	return strings.Contains(all, strings.ToLower(text))
}

type explainCmd struct {
	ID string `arg:"" help:"The rule's id, such as FL-010."`
}

func (explainCmd) Help() string {
	return `Example:
  tunwright explain EL-010`
}

// Run prints one rule in full.
func (c explainCmd) Run(con *console) error {
	for _, r := range configurator.Rules() {
		if !strings.EqualFold(r.ID, c.ID) {
			continue
		}
		fmt.Fprintf(con.out, "%s  %s\n\n  severity  %s\n  compares  %s\n  why       %s\n  source    %s\n", r.ID, r.Title, r.Severity, r.Compares, r.Why, r.Source)
		if len(r.DependsOn) > 0 {
			fmt.Fprintf(con.out, "  waits on  %s\n", strings.Join(r.DependsOn, ", "))
		}
		return nil
	}
	return fmt.Errorf("no rule is called %q: tunwright rules lists all", c.ID)
}
