// Package proof prints the paper of a trade for the sample projects inside a test and
// reads the pages back, so that a builder's tests can look for figures on them.
//
// Begin with Report, Print and Golden. It is for tests alone.
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
	"tunwright/pricing/offer"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Report checks a sample project, arranged as the office would have it.
func Report(t testing.TB, name string) configurator.Report {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := offer.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := configurator.Arrange(j.Project, c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := configurator.Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Paper puts sections under a head of their own.
func Paper(title string, r configurator.Report, sections []paper.Section) paper.Doc {
	return paper.Doc{
		Title: title, Subtitle: r.Project.Title, Number: "T-0001", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "Test firm"}, Locale: paper.EnGB, Numbered: true, Sections: sections,
	}
}

// Print draws the paper twice, holds both to the same bytes and gives its text. It must
// fit US letter too, and every table must have a name and be a sheet. Where KEEP_PAPERS
// names a folder, the file is kept there to be looked at.
func Print(t *testing.T, name string, doc paper.Doc) string {
	t.Helper()
	file := written(t, doc)
	if !bytes.Equal(file, written(t, doc)) {
		t.Error("the same paper was printed as different bytes")
	}
	if keep := os.Getenv("KEEP_PAPERS"); keep != "" {
		if err := os.WriteFile(filepath.Join(keep, name+".pdf"), file, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	letter := doc
	letter.Size = paper.USLetter
	written(t, letter)
	sheets(t, doc)
	return read(t, file)
}

func written(t *testing.T, doc paper.Doc) []byte {
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

// read gives the words on the pages. A bare laptop may lack the tool; where CI is set
// it must be there.
func read(t *testing.T, file []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is not installed")
		}
		t.Skip("pdftotext is not installed: the pages cannot be read")
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
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
