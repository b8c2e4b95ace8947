package parts_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The paper of a part by that of its score: parts are printed on A4, Letter and what lies
// between them and 27 by 36 cm (part-preparation, section 8); a score on paper twice as
// large as Letter, or Letter and Legal lying down, belongs to whoever prints on Letter; all
// others have A4. Sizes in millimetres by ISO 216 and the inch of 25.4 mm.
func TestPaperOfParts(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why                string
		width, height      float64 // of the score
		toWidth, toHeight  float64
		name               string
		staff, left, above float64
	}{
		{"A4", 210, 297, 210, 297, "Violin", 8, 15, 10},
		{"Letter, a wind's smaller staff", 215.9, 279.4, 215.9, 279.4, "Oboe", 7.5, 15, 10},
		{"B4", 250, 353, 250, 353, "Violin", 8, 15, 10},
		{"the paper of a part by the guide", 257, 364, 257, 364, "Trumpet in C", 7.5, 15, 10},
		{"A3", 297, 420, 210, 297, "Violin", 8, 15, 10},
		{"A3 lying down", 420, 297, 210, 297, "Violin", 8, 15, 10},
		{"tabloid", 279.4, 431.8, 215.9, 279.4, "Violin", 8, 15, 10},
		{"tabloid lying down", 431.8, 279.4, 215.9, 279.4, "Violin", 8, 15, 10},
		{"Letter lying down", 279.4, 215.9, 215.9, 279.4, "Violin", 8, 15, 10},
		{"Legal", 215.9, 355.6, 215.9, 355.6, "Violin", 8, 15, 10},
		{"Legal lying down", 355.6, 215.9, 215.9, 279.4, "Violin", 8, 15, 10},
		{"as narrow as Letter, and higher than any paper", 215.9, 400, 210, 297, "Violin", 8, 15, 10},
		{"as high as Letter lying down, and wider", 400, 215.9, 210, 297, "Violin", 8, 15, 10},
		{"as high as tabloid, and narrower", 380, 279.4, 210, 297, "Violin", 8, 15, 10},
		{"a paper of Legal's length", 300, 355.6, 210, 297, "Violin", 8, 15, 10},
		{"A5", 148, 210, 210, 297, "Violin", 8, 15, 10},
		{"too narrow", 190, 300, 210, 297, "Violin", 8, 15, 10},
		{"too low", 250, 260, 210, 297, "Violin", 8, 15, 10},
		{"too wide", 280, 350, 210, 297, "Violin", 8, 15, 10},
		{"too high", 250, 370, 210, 297, "Violin", 8, 15, 10},
	} {
		defaults := fmt.Sprintf("<defaults><scaling><millimeters>10</millimeters><tenths>40</tenths></scaling><page-layout><page-height>%g</page-height><page-width>%g</page-width></page-layout></defaults>",
			row.height*4, row.width*4)
		made := handedTo(t, scoreOf(t, row.name, music(t, "treble C5"), defaults), "", "")
		root := made.sheet.Document.Root()
		mm := func(path string) float64 {
			e := root.FindElement("defaults/" + path)
			require.NotNil(t, e, path)
			n, err := strconv.ParseFloat(e.Text(), 64)
			require.NoError(t, err)
			return n
		}
		perTenth := mm("scaling/millimeters") / mm("scaling/tenths")
		size := func(path string) float64 { return math.Round(mm(path)*perTenth*10) / 10 }
		assert.Equal(t, []float64{row.toWidth, row.toHeight, row.staff, row.left, row.above}, []float64{size("page-layout/page-width"), size("page-layout/page-height"),
			math.Round(perTenth*40*10) / 10, size("page-layout/page-margins/left-margin"), size("page-layout/page-margins/top-margin")}, row.why)
	}
}
