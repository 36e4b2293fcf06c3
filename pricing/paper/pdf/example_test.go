package pdf_test

import (
	"bytes"
	"fmt"
	"time"

	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
)

func ExampleWrite() {
	doc := paper.Doc{
		Title: "Floor loads", Number: "Q-2026-0042-FL", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "Harrowmere Brewing Plant"},
		Sections: []paper.Section{{Title: "Tanks", Blocks: []paper.Block{
			paper.Table{
				Name:    "Tanks",
				Columns: []paper.Column{{Title: "Tank"}, {Title: "Full", Unit: "kg", Kind: paper.Number}},
				Rows:    []paper.Row{{Cells: []paper.Cell{paper.W("FV1"), paper.N(1342.4, 0)}}},
			},
		}}},
	}
	var file bytes.Buffer
	if err := pdf.Write(&file, doc); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(file.String()[:8])

	doc.Sections[0].Title = "貯酒"
	fmt.Println(pdf.Write(&file, doc))
	// Output:
	// %PDF-1.7
	// document Q-2026-0042-FL: section "貯酒": no embedded font has the character '貯' (U+8CAF): write it another way
}
