package catalog_test

import (
	"testing"

	"tunwright/catalog"
)

func BenchmarkEmbedded(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := catalog.Embedded(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEmbeddedAndDigest(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		c, err := catalog.Embedded()
		if err != nil {
			b.Fatal(err)
		}
		digest(b, c)
	}
}

func BenchmarkLookupMiss(b *testing.B) {
	c := load(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Lookup("FV-11"); err == nil {
			b.Fatal("FV-11 was found")
		}
	}
}
