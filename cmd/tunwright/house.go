package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"tunwright/catalog"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/testdata/projects"
)

// version is the program's own; papers print it, so that a reprint can say with
// which program it was made.
const version = "0.1"

// houseFlags choose whose catalogue, prices and letterhead are used. A command that
// needs one of them takes that one's flags alone.
type houseFlags struct {
	catalogueFlags
	pricesFlags
	firmFlags
}

type catalogueFlags struct {
	Catalogue string `help:"Folder of catalogue files that replace or extend the built-in range." type:"existingdir" placeholder:"DIR"`
	Only      bool   `help:"With --catalogue: leave the built-in range out."`
}

type pricesFlags struct {
	Prices string `help:"Price book to use instead of the built-in one." placeholder:"FILE"`
}

type firmFlags struct {
	Firm string `help:"Settings file of the firm: letterhead, terms, stages." placeholder:"FILE"`
}

func (f houseFlags) open() (offer.House, []byte, error) {
	c, err := f.catalogue()
	if err != nil {
		return offer.House{}, nil, err
	}
	book, err := f.book()
	if err != nil {
		return offer.House{}, nil, err
	}
	firm, logo, err := f.firm()
	return offer.House{Firm: firm, Catalogue: c, Book: book}, logo, err
}

func (f catalogueFlags) catalogue() (*catalog.Catalogue, error) {
	if f.Catalogue == "" {
		return catalog.Embedded()
	}
	if f.Only {
		return catalog.Open(os.DirFS(f.Catalogue))
	}
	base, err := catalog.Embedded()
	if err != nil {
		return nil, err
	}
	return catalog.Overlay(base, os.DirFS(f.Catalogue))
}

func (f pricesFlags) book() (*pricing.Book, error) {
	if f.Prices == "" {
		return pricing.ReadBook(data.PricesFile, data.Prices())
	}
	text, err := readText(f.Prices)
	if err != nil {
		return nil, err
	}
	return pricing.ReadBook(f.Prices, text)
}

func (f firmFlags) firm() (offer.Firm, []byte, error) {
	if f.Firm == "" {
		firm, err := offer.ReadFirm(data.FirmFile, data.Firm())
		return firm, nil, err
	}
	text, err := readText(f.Firm)
	if err != nil {
		return offer.Firm{}, nil, err
	}
	firm, err := offer.ReadFirm(f.Firm, text)
	if err != nil || firm.Logo == "" {
		return firm, nil, err
	}
	logo, err := readText(filepath.Join(filepath.Dir(f.Firm), firm.Logo))
	return firm, logo, err
}

// readJob reads an enquiry file; without a name it takes the built-in demo.
func readJob(path string) (offer.Job, error) {
	if path == "" {
		text, err := projects.Text(projects.Demo)
		if err != nil {
			return offer.Job{}, err
		}
		return offer.Read(projects.Demo+".yaml", text)
	}
	text, err := readText(path)
	if err != nil {
		return offer.Job{}, err
	}
	return offer.Read(path, text)
}

// dated gives the job the day a person asked for.
func dated(j offer.Job, date string, today time.Time) (offer.Job, error) {
	if date == "" {
		return j, nil
	}
	if date == "today" {
		j.Date = enquiry.DateOf(today)
		return j, nil
	}
	d, err := enquiry.ParseDate(date)
	if err != nil {
		return j, fmt.Errorf("--date: %w", err)
	}
	j.Date = d
	return j, nil
}
