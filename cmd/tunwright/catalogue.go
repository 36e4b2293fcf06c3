package main

import (
	"fmt"
	"text/tabwriter"

	"tunwright/catalog"
)

type versionCmd struct{}

// Run prints the version of program and catalogue.
func (versionCmd) Run(con *console) error {
	c, err := catalog.Embedded()
	if err != nil {
		return err
	}
	digest, err := c.Digest()
	if err != nil {
		return err
	}
	fmt.Fprintf(con.out, "tunwright %s\ncatalogue %s\n", version, digest)
	return nil
}

type catalogueCmd struct {
	List   catalogueListCmd   `cmd:"" help:"List the products."`
	Check  catalogueCheckCmd  `cmd:"" help:"Validate a folder of catalogue files."`
	Schema catalogueSchemaCmd `cmd:"" help:"Print the JSON Schema of a catalogue file."`
}

type catalogueListCmd struct {
	catalogueFlags
	Class string `arg:"" optional:"" help:"Only this class, such as fermenter."`
}

// Run lists products by class.
func (c catalogueListCmd) Run(con *console) error {
	cat, err := c.catalogue()
	if err != nil {
		return err
	}
	w := tabwriter.NewWriter(con.out, 0, 4, 2, ' ', 0)
	n := 0
	for _, class := range catalog.Classes() {
		if c.Class != "" && string(class) != c.Class {
			continue
		}
		for _, p := range cat.ByClass(class) {
			n++
			fmt.Fprintf(w, "%s\t%s\t%s\n", p.Code, p.Class, p.Name)
		}
	}
	if n == 0 {
		return fmt.Errorf("there is no class %q: use one of %v", c.Class, catalog.Classes())
	}
	return w.Flush()
}

type catalogueCheckCmd struct {
	Dir  string `arg:"" type:"existingdir" help:"Folder of YAML files."`
	Only bool   `help:"Check it by itself, not laid over the built-in range."`
}

func (catalogueCheckCmd) Help() string {
	return `Example:
  tunwright catalogue check our-range/`
}

// Run reads a folder and says what is wrong with it.
func (c catalogueCheckCmd) Run(con *console) error {
	cat, err := catalogueFlags{Catalogue: c.Dir, Only: c.Only}.catalogue()
	if err != nil {
		return err
	}
	fmt.Fprintf(con.out, "In order: %d products with those of %s.\n", len(cat.All()), c.Dir)
	return nil
}

type catalogueSchemaCmd struct{}

// Run prints the schema.
func (catalogueSchemaCmd) Run(con *console) error {
	text, err := catalog.Schema()
	if err != nil {
		return err
	}
	fmt.Fprintln(con.out, string(text))
	return nil
}
