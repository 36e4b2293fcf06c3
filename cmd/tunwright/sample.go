package main

import (
	"fmt"
	"strings"

	"tunwright/pricing/offer"
	"tunwright/testdata/projects"
)

type sampleCmd struct {
	Name   string `arg:"" optional:"" help:"Which sample; left out, the names are listed."`
	Schema bool   `help:"Print the JSON Schema of an enquiry file instead."`
}

func (sampleCmd) Help() string {
	return `Examples:
  tunwright sample                        the names
  tunwright sample hill-farm > farm.yaml
  tunwright sample --schema > enquiry.schema.json`
}

// Run prints a sample enquiry.
func (c sampleCmd) Run(con *console) error {
	if c.Schema {
		text, err := offer.Schema()
		if err != nil {
			return err
		}
		fmt.Fprintln(con.out, string(text))
		return nil
	}
	if c.Name == "" {
		fmt.Fprintln(con.out, strings.Join(projects.Names(), "\n"))
		return nil
	}
	text, err := projects.Text(c.Name)
	if err != nil {
		return err
	}
	_, err = con.out.Write(text)
	return err
}
