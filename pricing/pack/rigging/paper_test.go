package rigging_test

import (
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/rigging"
	"tunwright/pricing/paper"
)

func document(r configurator.Report) paper.Doc {
	return proof.Paper("Delivery and lifting", r, rigging.Sections(r))
}

func TestPaperOfTheSamples(t *testing.T) { proof.Samples(t, "rigging", document, figures) }

// Whatever is not known or is laid out in another way is printed too.
func TestOtherEnquiries(t *testing.T) { proof.Others(t, document) }
