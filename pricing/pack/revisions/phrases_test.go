package revisions

import (
	"testing"

	"tunwright/pricing/pack/client/phrase/phrasetest"
	"tunwright/pricing/paper"
)

func TestPhrases(t *testing.T) {
	phrasetest.Audit(t, phrases, ".")
	phrasetest.Gaps(t, phrases.In(paper.EnGB), phrases.In(paper.DeDE), phrases.Keys())
}
