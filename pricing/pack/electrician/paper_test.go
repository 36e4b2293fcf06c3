package electrician_test

import (
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/pack/electrician"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper"
)

func document(r configurator.Report) paper.Doc {
	return proof.Paper("Electrical schedule", r, electrician.Sections(r))
}

func TestPaperOfTheSamples(t *testing.T) { proof.Samples(t, "electrician", document, figures) }

// Whatever is not known or is laid out in another way is printed too.
func TestOtherEnquiries(t *testing.T) { proof.Others(t, document) }
