package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/transpose/pitch"
)

var languages = pitch.Languages()

// TestCompleteness holds every instrument to what the commands need of it. The
// worked note (written C4, what sounds) is checked when the catalogue is read.
func TestCompleteness(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	all := c.All()
	assert.Greater(t, len(all), 250)
	titles := map[string]string{}
	for _, i := range all {
		t.Run(i.ID, func(t *testing.T) {
			for _, language := range languages {
				assert.NotEmpty(t, i.Name(language))
				assert.NotEmpty(t, i.Abbreviation(language))
				assert.NotEmpty(t, i.Describe(language))
			}
			assert.NotEmpty(t, i.Clefs)
			assert.Equal(t, i.ID == "mallet-percussion", i.Sound() == "", "the standard names a sound for each instrument, but not for several by turns")
			assert.Equal(t, i.Flags.Unpitched, i.Clefs[0].Sign == "percussion", "unpitched reads the percussion clef")
			other, twice := titles[i.Title("en")]
			assert.False(t, twice, "the same title as %s", other)
			titles[i.Title("en")] = i.ID
			assert.Same(t, i, c.ByID(i.ID))
			assert.Equal(t, []*instruments.Instrument{i}, c.Find(i.ID), "found by its id")
		})
	}
}

// TestRangesComplete wants a range for every instrument with pitches, and none for
// the others.
func TestRangesComplete(t *testing.T) {
	t.Parallel()
	for _, i := range instrumentstest.Load(t).All() {
		for _, level := range instruments.Levels() {
			r, ok := i.Range(level)
			require.Equal(t, !i.Flags.Unpitched, ok, "%s %s", i.ID, level)
			if !ok {
				continue
			}
			assert.Equal(t, level, r.Level)
			assert.NotEmpty(t, r.Source, i.ID)
			assert.Equal(t, r.Sounding.Low, i.Interval().Apply(r.Written.Low), i.ID)
			assert.Equal(t, r.Sounding.High, i.Interval().Apply(r.Written.High), i.ID)
			assert.True(t, r.Sounding.Contains(r.Sounding.ComfortableLow.NoteNumber()), i.ID)
			assert.True(t, r.Sounding.Contains(r.Sounding.ComfortableHigh.NoteNumber()), i.ID)
		}
	}
}

// TestSchoolWithinProfessional: what a beginner plays, a professional plays.
func TestSchoolWithinProfessional(t *testing.T) {
	t.Parallel()
	for _, i := range instrumentstest.Load(t).All() {
		school, ok := i.Range(instruments.School)
		if !ok {
			continue
		}
		professional, _ := i.Range(instruments.Professional)
		assert.True(t, professional.Sounding.Contains(school.Sounding.Low.NoteNumber()), i.ID)
		assert.True(t, professional.Sounding.Contains(school.Sounding.High.NoteNumber()), i.ID)
	}
}

// TestKinds: each kind has one usual member, and members of a kind share a family.
func TestKinds(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, i := range c.All() {
		usual := 0
		for _, member := range c.KindMembers(i.Kind) {
			assert.Equal(t, i.Family, member.Family)
			assert.Equal(t, i.Group, member.Group)
			if member.Flags.Usual {
				usual++
			}
		}
		assert.Equal(t, 1, usual, i.Kind)
		assert.True(t, c.Has(i.Family))
		assert.True(t, i.Is(i.Family) && i.Is(i.Kind) && i.Is(i.ID) && i.Is(string(i.Group)))
		assert.Contains(t, c.FamilyMembers(i.Family), i)
	}
	assert.False(t, c.Has("bazooka"))
}

// TestLoadsApart: two catalogues share nothing that could be changed.
func TestLoadsApart(t *testing.T) {
	t.Parallel()
	a, err := instruments.Load()
	require.NoError(t, err)
	b, err := instruments.Load()
	require.NoError(t, err)
	a.ByID("flute").Sounds[0] = "changed"
	assert.Equal(t, "wind.flutes.flute", b.ByID("flute").Sound())
}
