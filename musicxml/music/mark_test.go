package music_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
)

// marks writes every mark as its element's name, where it stands and is seen, and
// whether it stands at a note and is hidden.
func marks(p *music.Part) []string {
	list := []string{}
	for i := range p.Marks {
		m := &p.Marks[i]
		text := fmt.Sprintf("%s %d:%s", m.Element.Tag, m.Measure+1, m.Stands)
		if m.Onset != m.Stands {
			text += " seen at " + m.Onset.String()
		}
		if m.Note != nil {
			text += " at " + m.Note.Pitch.String()
		}
		if m.Hidden {
			text += " hidden"
		}
		list = append(list, text)
	}
	return list
}

func TestMarks(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, why      string
		measures, want []string
	}{
		{"at notes", "groups are opened, editors' notes left out", []string{
			note("C4", 4, notations(`<slur type="start"/><articulations><staccato/><accent/></articulations><footnote>x</footnote><level/>`), `<lyric><text>la</text></lyric>`) +
				note("D4", 4, notations(`<technical><fingering>1</fingering></technical>`), notations(`<ornaments><trill-mark/><accidental-mark>flat</accidental-mark></ornaments><fermata/>`))},
			[]string{"slur 1:0 at C4", "staccato 1:0 at C4", "accent 1:0 at C4", "lyric 1:0 at C4", "fingering 1:1 at D4", "trill-mark 1:1 at D4", "accidental-mark 1:1 at D4", "fermata 1:1 at D4"}},
		{"ties are marks too", "a curve has a side", []string{note("C4", 4, tiedStart)}, []string{"tied 1:0 at C4"}},
		{"of a chord", "each head its own", []string{note("C4", 4, notations(`<fermata/>`)) + note("E4", 4, "<chord/>", notations(`<technical><fingering>3</fingering></technical>`))},
			[]string{"fermata 1:0 at C4", "fingering 1:0 at E4"}},
		{"not printed", "print-object of the element or of what holds it", []string{
			note("C4", 4, `<notations print-object="no"><fermata/></notations>`, `<lyric print-object="no"/>`, notations(`<fermata/>`))},
			[]string{"fermata 1:0 at C4 hidden", "lyric 1:0 at C4 hidden", "fermata 1:0 at C4"}},
		{"directions", "one by one", []string{note("C4", 4) + `<direction><direction-type><words>dolce</words><dynamics><p/></dynamics></direction-type><direction-type><rehearsal>A</rehearsal></direction-type><sound tempo="60"/></direction>`},
			[]string{"words 1:1", "dynamics 1:1", "rehearsal 1:1", "sound 1:1"}},
		{"an offset", "moves what is seen", []string{note("C4", 4) + direction(`<words>dolce</words>`, `<offset>2</offset>`) + note("C4", 4) + direction(`<words>espr.</words>`, `<offset>-6</offset>`)},
			[]string{"words 1:1 seen at 3/2", "words 1:2 seen at 1/2"}},
		{"after a forward and a backup", "where the music has come to", []string{note("C4", 8) + `<forward><duration>4</duration></forward>` + direction(`<words>a</words>`) + backup(8) + direction(`<words>b</words>`)},
			[]string{"words 1:3", "words 1:1"}},
		{"after a chord and a grace note", "which take no time of their own", []string{note("C4", 4) + note("E4", 2, "<chord/>") + note("D4", 0) + direction(`<words>a</words>`)}, []string{"words 1:1"}},
		{"barlines", "left, middle, right, and right by default", []string{
			`<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>` + note("C4", 4) + `<barline location="middle"><bar-style>dashed</bar-style></barline>` +
				note("C4", 4) + backup(4) + `<barline location="right"><fermata/></barline>` + `<barline><segno/></barline>`},
			[]string{"bar-style 1:0", "repeat 1:0", "bar-style 1:1", "fermata 1:2", "segno 1:2"}},
		{"harmony, figures, sound", "as they are", []string{`<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony><figured-bass><figure/></figured-bass>` + note("C4", 4) + `<harmony print-object="no"><offset>4</offset></harmony><sound dacapo="yes"/>`},
			[]string{"harmony 1:0", "figured-bass 1:0", "harmony 1:1 seen at 2 hidden", "sound 1:1"}},
		{"of others", "elements of another namespace say nothing", []string{`<direction xmlns:x="urn:x"><direction-type><x:words/><words/></direction-type></direction>`}, []string{"words 1:0"}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, marks(read(t, row.measures...)), row.why)
		})
	}
}

func TestMarksOfNotes(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 4, notations(`<fermata/><slur type="start"/>`))+direction("<words>a</words>")+note("D4", 4)+note("E4", 4, slur("stop")), note("F4", 4, notations("<fermata/>")))
	var counts []int
	for i := range p.Notes {
		counts = append(counts, len(p.Notes[i].Marks))
		for k := range p.Notes[i].Marks {
			assert.Same(t, &p.Notes[i], p.Notes[i].Marks[k].Note)
		}
	}
	assert.Equal(t, []int{2, 0, 1, 1}, counts)
	require.Len(t, p.Measures[1].Marks, 1)
	assert.Equal(t, fraction(3, 1), p.Measures[1].Marks[0].At(p), "three quarters are before it")
	assert.Equal(t, fraction(2, 1), p.Measures[0].Marks[3].At(p))
}

func TestGroup(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 4, notations(`<fermata/><articulations><staccato/></articulations><technical><fingering/></technical>`))+direction("<words/>")+`<barline><repeat/></barline><harmony/>`)
	var got []string
	for i := range p.Marks {
		got = append(got, p.Marks[i].Group())
	}
	assert.Equal(t, []string{"notations", "articulations", "technical", "direction-type", "barline", "measure"}, got)
}
