package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
)

// Who shares a staff, worked by hand: as many as the name numbers, else as the score's
// <instruments> or its score-instruments say, else two where a name in the plural stands
// over music in two parts; strings and singers only where numbered; percussion, keyboards,
// plucked instruments never; cello and double bass by their name, other pairs by <double>
// (musicxml-coverage, 9; notation-rules, 7; MusicXML 4.0, instruments, double). A file's
// number counts from 1.
func TestWhoSharesAStaff(t *testing.T) {
	t.Parallel()
	const two, one = "E5:w / C5:w", "C5:w"
	for _, row := range []struct {
		why, name   string
		instruments []string
		music, want string
	}{
		{"numbered", "Flutes 1 & 2", nil, one, "1 Flute 1, 2 Flute 2"},
		{"three numbered", "Trombones 1-3", nil, one, "1 Trombone 1, 2 Trombone 2, 3 Trombone 3"},
		{"the lower pair", "Horns in F 3 & 4", nil, one, "1 Horn in F 3, 2 Horn in F 4"},
		{"one number", "Flute 2", nil, two, "1 Flute 2"},
		{"the plural over two voices", "Flutes", nil, two, "1 Flute 1, 2 Flute 2"},
		{"the plural over chords", "Flutes", nil, "C5+E5:w", "1 Flute 1, 2 Flute 2"},
		{"the plural over one line", "Flutes", nil, one, "1 Flute"},
		{"the plural over words", "Flutes", nil, `"1." C5:w | "2." C5:w`, "1 Flute 1, 2 Flute 2"},
		{"the plural over three voices", "Flutes", nil, "E5:w / C5:w / A4:w", "1 Flute 1, 2 Flute 2, 3 Flute 3"},
		{"the plural over five", "Flutes", nil, "C5+D5+E5+F5+G5:w", "1 Flute 1, 2 Flute 2, 3 Flute 3, 4 Flute 4"},
		{"the singular over two voices", "Flute", nil, two, "1 Flute"},
		{"as many as the score says", "Flute", nil, "[instruments 2] C5:w", "1 Flute 1, 2 Flute 2"},
		{"one, as the score says", "Flute", nil, "[instruments 1] C5:w", "1 Flute"},
		{"score-instruments that are numbered", "Flute", []string{"Flute 1", "Flute 2"}, one, "1 Flute 1, 2 Flute 2"},
		{"numbered, though the score says one", "Flute", []string{"Flute 1", "Flute 2"}, "[instruments 1] C5:w", "1 Flute 1, 2 Flute 2"},
		{"score-instruments of two kinds", "Flute", []string{"Flute 1", "Piccolo"}, one, "1 Flute"},
		{"violins, numbered", "Violin 1 & 2", nil, one, "1 Violin 1, 2 Violin 2"},
		{"violins, in the plural", "Violins", nil, two, "1 Violin"},
		{"singers, in the plural", "Sopranos", nil, two, "1 Soprano"},
		{"percussion", "Timpani 1 & 2", nil, one, "1 Timpani 1, 2"},
		{"keyboard", "Piano 1 & 2", nil, one, "1 Pianos 1, 2"},
		{"harps", "Harps 1 & 2", nil, one, "1 Harps 1, 2"},
		{"cello and bass", "Violoncello e Contrabbasso", nil, "bass C3:w", "1 Cello, 2 Double Bass"},
		{"bass and cello", "Double Bass / Cello", nil, "bass C3:w", "1 Double Bass / Cello"},
		{"a pair without double", "Flute / Piccolo", nil, one, "1 Flute / Piccolo"},
		{"nobody known, numbered", "Quayphones 1 & 2", nil, one, "1 Quayphones 1 & 2"},
	} {
		o := plain(parts.Written)
		o.Players, o.Language = true, "en"
		data := shorthand.Score(t, shorthand.Entry{Name: row.name, Instruments: row.instruments, Music: row.music})
		var got []string
		for _, a := range assign(t, data, o) {
			got = append(got, fmt.Sprintf("%d %s", a.Number, a.Label))
		}
		assert.Equal(t, row.want, strings.Join(got, ", "), "%s: %s", row.why, row.name)
	}
}
