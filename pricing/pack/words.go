package pack

import (
	"fmt"
	"strconv"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
	"tunwright/configurator/trace"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/paper"
)

// locale is the language the job's papers are written in.
func (j job) locale() paper.Locale {
	switch j.Job.Terms.Language {
	case "en-IE":
		return paper.EnIE
	case "en-US":
		return paper.EnUS
	case "de-DE":
		return paper.DeDE
	}
	if j.Job.Site.Country == "IE" {
		return paper.EnIE
	}
	if j.Job.Site.Country == "US" {
		return paper.EnUS
	}
	return paper.EnGB
}

func (j job) moneyLocale() money.Locale { return j.locale() }

// colour reads #rrggbb; anything else is the black that the writers take by default.
func colour(hex string) paper.Colour {
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		return paper.Colour{}
	}
	return paper.Colour{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}
}

func para(format string, args ...any) paper.Paragraph {
	return paper.Paragraph{Text: paper.Plain(fmt.Sprintf(format, args...))}
}

func note(format string, args ...any) paper.Note {
	return paper.Note{Text: paper.Plain(fmt.Sprintf(format, args...))}
}

func heading(text string) paper.Heading { return paper.Heading{Level: 2, Text: text} }

// number puts a quantity into a column of a stated unit.
func number(q unit.Quantity, key string, decimals int) paper.Cell {
	if q == nil {
		return paper.Cell{}
	}
	u, ok := q.Kind().ByKey(key)
	if !ok {
		u = q.Kind().Shown()
	}
	return paper.N(u.From(q.SI()), decimals)
}

// maybe is a cell for a value that may be unknown; unknown is said, not left blank.
func maybe[Q unit.Quantity](q *Q, key string, decimals int) paper.Cell {
	if q == nil {
		return paper.W("unknown")
	}
	return number(*q, key, decimals)
}

func words(format string, args ...any) paper.Cell { return paper.W(fmt.Sprintf(format, args...)) }

func row(cells ...paper.Cell) paper.Row { return paper.Row{Cells: cells} }

func group(title string) paper.Row {
	return paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W(title)}}
}

// lists turns lines into a bulleted list.
func lists(lines []string) paper.List {
	l := paper.List{}
	for _, s := range lines {
		l.Items = append(l.Items, paper.Plain(s))
	}
	return l
}

// texts turns lines into the lines of a caution.
func texts(lines []string) []paper.Text {
	out := make([]paper.Text, len(lines))
	for i, s := range lines {
		out[i] = paper.Plain(s)
	}
	return out
}

// working prints the steps of a calculation.
func working(title string, steps trace.Trace) paper.Working {
	w := paper.Working{Title: title}
	for _, s := range steps {
		w.Steps = append(w.Steps, step(s))
	}
	return w
}

// printable writes symbols that the embedded faces lack in another usual way.
var printable = strings.NewReplacer("ṁ", "qm", "Q̇", "Q", "̇", "")

func step(s trace.Step) paper.Step {
	out := paper.Step{Title: s.Title, Symbol: printable.Replace(s.Symbol), Formula: printable.Replace(s.Formula), Note: s.Note, Source: cite(s.Source)}
	for _, v := range s.Values {
		if v.Quantity != nil {
			out.Values = append(out.Values, printable.Replace(v.Symbol)+" = "+v.Quantity.String())
		}
	}
	if s.Result != nil {
		out.Result = s.Result.String()
	}
	return out
}

func cite(r source.Ref) string {
	if r.IsZero() {
		return ""
	}
	return r.String()
}

func gravity(f rule.Finding) paper.Gravity {
	switch {
	case f.Outcome == rule.Unknown:
		return paper.Unanswered
	case f.Outcome == rule.Pass:
		return paper.InOrder
	case f.Rule.Severity == rule.Blocker:
		return paper.Stops
	case f.Rule.Severity == rule.Warning:
		return paper.Warns
	}
	return paper.Mentions
}

func quantityText(q unit.Quantity) string {
	if q == nil {
		return ""
	}
	return q.String()
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func longDate(d pricing.Date, l money.Locale) string { return d.Long(l) }
