package pdf_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"tunwright/pricing/paper/internal/sample"
	"tunwright/pricing/paper/pdf"
)

func TestDraw(t *testing.T) {
	var b bytes.Buffer
	if err := pdf.Write(&b, sample.Doc()); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(t.ArtifactDir(), "sample.pdf"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
