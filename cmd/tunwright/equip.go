package main

import (
	"fmt"

	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/propose"
	"tunwright/pricing/offer"
)

type equipCmd struct {
	catalogueFlags
	File string `arg:"" help:"Enquiry file; equipment that it names is left out of account."`
}

func (equipCmd) Help() string {
	return `Examples:
  tunwright equip brief.yaml                  the equipment, each item with the reason for it
  tunwright equip brief.yaml >> brief.yaml    added to a file that names none

It is a beginning: tunwright check says what is left to settle.`
}

// Run prints the equipment proposed for an enquiry, as the part of its file.
func (c equipCmd) Run(con *console) error {
	cat, err := c.catalogue()
	if err != nil {
		return err
	}
	text, err := readText(c.File)
	if err != nil {
		return err
	}
	job, err := offer.ReadBrief(c.File, text)
	if err != nil {
		return err
	}
	chosen, err := propose.Equip(job.Project, cat)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	part, err := strict.YAML(struct {
		Chosen enquiry.Selection `yaml:"equipment"`
	}{chosen})
	if err != nil {
		return fmt.Errorf("write the equipment: %w", err)
	}
	_, err = con.out.Write(part)
	return err
}
