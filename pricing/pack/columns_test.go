package pack_test

import (
	"strings"
	"testing"

	"tunwright/pricing/pack"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

// A column that is empty from top to bottom says nothing. Only those that are filled
// in by hand stay empty, by the name of the table and the title of the column.
func TestNoColumnIsEmptyThroughout(t *testing.T) {
	byHand := map[string]bool{"engineer-questions/Answer": true}
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := made(t, h, name)
		docs := map[string]paper.Doc{"pack": pack.Pack(o, h.Firm, issue)}
		for _, p := range pack.Papers() {
			docs[p.Key] = p.Doc(o, h.Firm, issue)
		}
		for key, doc := range docs {
			for _, x := range sheet.Tables(doc) {
				for i, c := range x.Columns {
					if !byHand[x.Name+"/"+c.Title] && emptyThroughout(x, i) {
						t.Errorf("%s, %s: column %q of table %q is empty", name, key, c.Title, x.Name)
					}
				}
			}
		}
	}
}

func emptyThroughout(t paper.Table, column int) bool {
	rows := 0
	for _, r := range t.Rows {
		if r.Kind == paper.Group || column >= len(r.Cells) {
			continue
		}
		rows++
		if c := r.Cells[column]; !c.Empty() {
			return false
		}
	}
	return rows > 0
}

// The tables of one paper become files and sheets by their names.
func TestTablesOfAPaperHaveNamesOfTheirOwn(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := made(t, h, name)
		for _, p := range pack.Papers() {
			seen := map[string]string{}
			for _, x := range sheet.Tables(p.Doc(o, h.Firm, issue)) {
				if other, ok := seen[x.Name]; ok {
					t.Errorf("%s, %s: tables %q and %q are both named %q", name, p.Key, other, x.Title, x.Name)
				}
				seen[x.Name] = x.Title
			}
		}
	}
}

// Nobody signs a quotation while a finding stops the job.
func TestNothingToSignWhileAStopStands(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := made(t, h, name)
		signed := false
		for _, s := range pack.Papers()[0].Doc(o, h.Firm, issue).Sections {
			for _, b := range s.Blocks {
				if x, ok := b.(paper.Together); ok {
					for _, c := range x.Blocks {
						_, is := c.(paper.Signatures)
						signed = signed || is
					}
				}
			}
		}
		if stops := o.Report.Count().Stops; signed != (stops == 0) {
			t.Errorf("%s: %d stops stand, and there is a place to sign: %v", name, stops, signed)
		}
	}
}

// A citation that was not read in its document carries the mark, and the mark is explained.
func TestCitationsFromMemoryAreMarked(t *testing.T) {
	h := proof.House(t)
	marked := 0
	for _, name := range projects.Names() {
		o := made(t, h, name)
		for _, s := range pack.Papers()[1].Doc(o, h.Firm, issue).Sections {
			for i, b := range s.Blocks {
				x, ok := b.(paper.Findings)
				if !ok {
					continue
				}
				here := 0
				for _, f := range x.Items {
					if strings.Contains(f.Source, "[from memory]") {
						t.Errorf("%s, %s: %q", name, f.ID, f.Source)
					}
					if strings.HasSuffix(f.Source, "†") {
						here++
					}
				}
				explained := i+1 < len(s.Blocks)
				if here > 0 && !explained {
					t.Errorf("%s: the mark is not explained", name)
				}
				marked += here
			}
		}
	}
	if marked == 0 {
		t.Error("no sample cites anything from memory: nothing was tried")
	}
}
