package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, err := instruments.Load()
		require.NoError(b, err)
	}
}

func BenchmarkMatch(b *testing.B) {
	c := instrumentstest.Load(b)
	query := instruments.Query{Name: "Clarinets 1 & 2 in B♭ (Bass Clarinet)", Abbreviation: "Cl. 1.2"}
	require.Equal(b, "clarinet-bflat", c.Match(query).Instrument.ID)
	b.ReportAllocs()
	for b.Loop() {
		c.Match(query)
	}
}
