// Package offer joins the technical side to the money: a job is an enquiry with its
// commercial terms, and an offer is the job checked and priced. It decides nothing
// of either side; it carries the chosen products into lines and the facts they rest
// on into each line.
//
// Begin with Read, Make and Offer.
package offer

import (
	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"

	"github.com/shopspring/decimal"
)

// Job is a project file: the enquiry and the commercial terms.
type Job struct {
	enquiry.Project
	Terms Terms `yaml:"commercial,omitempty" doc:"discounts, stages and validity, where they differ from the firm's own"`
}

// Terms are what is agreed for this job. What is left out is the firm's own.
type Terms struct {
	Currency  string          `yaml:"currency,omitempty" enum:"GBP|EUR|USD"`
	ValidDays int             `yaml:"valid_days,omitempty" range:"1..365"`
	Discount  decimal.Decimal `yaml:"discount_pct,omitempty" doc:"off the whole, per cent"`
	Reason    string          `yaml:"discount_reason,omitempty"`
	Stages    []Stage         `yaml:"stages" doc:"payments; the percentages sum to 100"`
	Delivery  *Delivery       `yaml:"delivery"`
	Rate      *Rate           `yaml:"exchange_rate" doc:"needed where the currency is not the price book's"`
	Business  bool            `yaml:"client_in_business,omitempty"`
	VATNumber string          `yaml:"client_vat_number,omitempty"`
	Lines     []LineTerms     `yaml:"lines" doc:"terms of single lines"`
	Tariff    *Tariff         `yaml:"tariff" doc:"what the client pays for electricity"`
	Language  string          `yaml:"language,omitempty" enum:"en-GB|en-IE|en-US|de-DE"`
}

// Stage is one payment.
type Stage struct {
	Name     string          `yaml:"name,required"`
	Event    string          `yaml:"event,required" doc:"what makes it fall due"`
	Evidence string          `yaml:"evidence,omitempty" doc:"what shows that it happened"`
	Days     int             `yaml:"days,omitempty" range:"0..180" doc:"days to pay"`
	Percent  decimal.Decimal `yaml:"percent,required"`
}

// Delivery is the rule of Incoterms 2020 and its place; the site's address where no
// place is named.
type Delivery struct {
	Rule     string `yaml:"rule,required" enum:"EXW|FCA|CPT|CIP|DAP|DPU|DDP|FAS|FOB|CFR|CIF"`
	Place    string `yaml:"place,omitempty"`
	LiftByUs bool   `yaml:"lift_by_us,omitempty"`
}

// Rate is a dated rate of exchange from the price book's currency.
type Rate struct {
	To     string          `yaml:"to" doc:"currency it leads to from the price book's, such as EUR"`
	Value  decimal.Decimal `yaml:"value,required"`
	Source string          `yaml:"source,required" doc:"who published it"`
	Date   enquiry.Date    `yaml:"date,required"`
	Until  enquiry.Date    `yaml:"until,required" doc:"last day it is used"`
	Buffer decimal.Decimal `yaml:"buffer_pct,omitempty"`
}

// LineTerms are the terms of the line of one tag.
type LineTerms struct {
	Tag      string          `yaml:"tag,required"`
	Discount decimal.Decimal `yaml:"discount_pct,omitempty"`
	Reason   string          `yaml:"reason,omitempty"`
	Optional string          `yaml:"option,omitempty" doc:"title of the option this line belongs to; it is then in no total"`
	Replaces []string        `yaml:"replaces" doc:"tags whose place the option takes"`
	Group    string          `yaml:"alternative_group,omitempty" doc:"of the options in a group at most one is taken"`
	Amount   string          `yaml:"amount,omitempty" doc:"of a provisional sum, instead of the price book's"`
	What     string          `yaml:"what,omitempty" doc:"what a provisional sum is for"`
	Adjusted string          `yaml:"adjusted,omitempty" doc:"how it is measured and adjusted"`
	Settled  string          `yaml:"settled,omitempty" doc:"who settles it and by when"`
}

// Read reads a job from the text of its file.
func Read(file string, text []byte) (Job, error) {
	var j Job
	if err := strict.Decode(file, text, &j); err != nil {
		return Job{}, err
	}
	return j, j.validate(file)
}

// ReadBrief reads a job for which no equipment may be chosen yet.
func ReadBrief(file string, text []byte) (Job, error) {
	var j Job
	if err := strict.Decode(file, text, &j); err != nil {
		return Job{}, err
	}
	return j, j.agree(file, j.ValidateBrief(file))
}

// Apply gives the job with the edits made; the job given is not changed.
func Apply(j Job, edits ...strict.Edit) (Job, error) {
	var edited Job
	if err := strict.Apply("enquiry", j, &edited, edits...); err != nil {
		return Job{}, err
	}
	return edited, edited.validate("enquiry")
}

func (j Job) validate(file string) error { return j.agree(file, j.Validate(file)) }

// agree adds to the problems of the enquiry those of the terms with it.
func (j Job) agree(file string, problems strict.Problems) error {
	tags := map[string]bool{}
	for _, item := range j.Chosen.Items {
		tags[item.Tag] = true
	}
	for _, l := range j.Terms.Lines {
		if !tags[l.Tag] {
			problems = append(problems, strict.Problem{File: file, Field: "commercial.lines", Message: "no item has the tag " + l.Tag, WouldHelp: "use a tag of equipment.items"})
		}
	}
	problems = append(problems, j.Terms.Tariff.check(file)...)
	if len(problems) > 0 {
		return problems
	}
	return nil
}

// Schema is the JSON Schema of a job's file.
func Schema() ([]byte, error) { return strict.Schema("Enquiry", Job{}) }
