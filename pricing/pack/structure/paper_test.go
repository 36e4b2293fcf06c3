package structure_test

import (
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/paper"
)

func document(r configurator.Report) paper.Doc {
	return proof.Paper("Equipment loading schedule", r, append(structure.Sections(r), structure.Architect(r)...))
}

func TestPaperOfTheSamples(t *testing.T) { proof.Samples(t, "structure", document, figures) }

// Whatever is not known or is laid out in another way is printed too.
func TestOtherEnquiries(t *testing.T) { proof.Others(t, document) }
