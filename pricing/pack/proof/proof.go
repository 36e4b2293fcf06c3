// Package proof prints the papers of the sample projects inside a test and reads the
// pages back, so that a builder's tests can look for figures on them.
//
// Begin with Samples, which is the whole test of a trade's paper, or with Report, Print
// and Golden. It is for tests alone.
package proof

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

var update = flag.Bool("update", false, "write the golden files anew")

// House is the embedded house: its catalogue, price book and firm.
func House(t testing.TB) offer.House {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	book, err := pricing.ReadBook(data.PricesFile, data.Prices())
	if err != nil {
		t.Fatal(err)
	}
	firm, err := offer.ReadFirm(data.FirmFile, data.Firm())
	if err != nil {
		t.Fatal(err)
	}
	return offer.House{Firm: firm, Catalogue: c, Book: book}
}

// Job is a sample as its file has it.
func Job(t testing.TB, name string) offer.Job {
	t.Helper()
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := offer.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Offer arranges, checks and prices a job as the office does.
func Offer(t testing.TB, h offer.House, j offer.Job) offer.Offer {
	t.Helper()
	var err error
	if j.Project, err = configurator.Arrange(j.Project, h.Catalogue); err != nil {
		t.Fatal(err)
	}
	o, err := offer.Make(j, h)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// Report is the report of a sample's offer.
func Report(t testing.TB, name string) configurator.Report {
	t.Helper()
	return Offer(t, House(t), Job(t, name)).Report
}

// Paper puts sections under a head of their own.
func Paper(title string, r configurator.Report, sections []paper.Section) paper.Doc {
	return paper.Doc{
		Title: title, Subtitle: r.Project.Title, Number: "T-0001", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "Test firm"}, Locale: paper.EnGB, Numbered: true, Sections: sections,
	}
}

// Print draws the paper twice, holds both to the same bytes and gives its text. It must
// fit US letter too, and every table must have a name and be a sheet.
func Print(t *testing.T, name string, doc paper.Doc) string {
	t.Helper()
	file := Written(t, doc)
	if !bytes.Equal(file, Written(t, doc)) {
		t.Error("the same paper was printed as different bytes")
	}
	letter := doc
	letter.Size = paper.USLetter
	Written(t, letter)
	sheets(t, doc)
	return Text(t, name, file)
}

// Written draws a paper.
func Written(t testing.TB, doc paper.Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func sheets(t *testing.T, doc paper.Doc) {
	t.Helper()
	seen := map[string]bool{}
	for _, table := range sheet.Tables(doc) {
		if table.Name == "" || seen[table.Name] {
			t.Errorf("table %q: its name %q is empty or stands twice", table.Title, table.Name)
		}
		seen[table.Name] = true
		var b bytes.Buffer
		if err := sheet.WriteCSV(&b, table); err != nil {
			t.Errorf("table %q: %v", table.Name, err)
		}
	}
	var b bytes.Buffer
	if err := sheet.WriteXLSX(&b, doc); err != nil {
		t.Error(err)
	}
}

// Text is what a reader can copy from the drawn pages.
func Text(t testing.TB, name string, file []byte) string {
	t.Helper()
	Keep(t, name+".pdf", file)
	return Tool(t, file, "pdftotext", "-layout", drawn, "-")
}

// Keep writes a file into the folder that KEEP_PAPERS names, to be looked at.
func Keep(t testing.TB, name string, file []byte) {
	t.Helper()
	if dir := os.Getenv("KEEP_PAPERS"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name), file, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// drawn is the file that Tool gives a program to read, in the folder where it runs.
const drawn = "paper.pdf"

// Tool runs a program beside a drawn paper, which is named paper.pdf among its
// arguments, and gives what it prints. A bare laptop may lack the program; where CI is
// set it must be there.
func Tool(t testing.TB, file []byte, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed: the pages cannot be read", name)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, drawn), file, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(path, args...)
	run.Dir = dir
	out, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// Flat is a text with single blanks, so that a broken line does not hide a phrase.
func Flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// Golden compares the text of a paper, line by line with single blanks, with the file
// kept of it; with -update it writes the file.
func Golden(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	var b strings.Builder
	for line := range strings.Lines(text) {
		if words := Flat(line); words != "" {
			b.WriteString(words + "\n")
		}
	}
	got := b.String()
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the text of the paper is no longer that of %s: run with -update and look at what changed; first difference: %s", path, difference(got, string(want)))
	}
}

func difference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got " + strings.TrimSpace(g[i]) + ", want " + strings.TrimSpace(w[i])
		}
	}
	return "one is longer than the other"
}

// Words is all that sections say in paragraphs, notes and cautions, for tests that
// need no pages.
func Words(sections []paper.Section) string {
	var b strings.Builder
	for _, s := range sections {
		for _, block := range s.Blocks {
			switch x := block.(type) {
			case paper.Paragraph:
				b.WriteString(x.Text.String() + "\n")
			case paper.Note:
				b.WriteString(x.Text.String() + "\n")
			case paper.Caution:
				for _, l := range x.Lines {
					b.WriteString(l.String() + "\n")
				}
			}
		}
	}
	return b.String()
}
