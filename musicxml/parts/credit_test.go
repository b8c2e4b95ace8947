package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"deskpart/musicxml"

	"github.com/stretchr/testify/assert"
)

// What stands round the music of a part's first page: the instrument's name at the upper
// left (metropole), the title in the middle, who wrote the music on the right, who wrote the
// words on the left (part-preparation, section 1). A score says it in <credit>s, with their
// type, by their text, or by their place alone; or only in its header. The score's page is
// 1000 tenths wide and 1400 high. What was guessed is not written as a type. Want: type, text, size in points, side.
func TestCredits(t *testing.T) {
	t.Parallel()
	const page = `<defaults><scaling><millimeters>8</millimeters><tenths>40</tenths></scaling><page-layout><page-height>1400</page-height><page-width>1000</page-width></page-layout></defaults>`
	credit := func(kind, text string, x, y int, attributes string) string {
		if kind != "" {
			kind = "<credit-type>" + kind + "</credit-type>"
		}
		return fmt.Sprintf(`<credit%s>%s<credit-words default-x="%d" default-y="%d">%s</credit-words></credit>`, attributes, kind, x, y, text)
	}
	header := func(work, movement, rest string) string {
		text := "<work><work-title>" + work + "</work-title></work>"
		if work == "" {
			text = ""
		}
		return text + movement + "<identification>" + rest + "</identification>" + page
	}
	const anna, ben, rights = `<creator type="composer">Anna Test</creator>`, `<creator type="lyricist">Ben Test</creator>`, `<rights>Free to copy</rights>`
	name := "part name Oboe 14 left"
	for _, row := range []struct {
		name, text string
		want       []string
	}{
		{"only in the header", header("Dances", "", anna+ben+rights), []string{"title Dances 20 center", "composer Anna Test 12 right", "lyricist Ben Test 12 left", "rights Free to copy 9 center", name}},
		{"a movement's title alone", header("", "<movement-title>Jig</movement-title>", ""), []string{"title Jig 20 center", name}},
		{"work and movement", header("Dances", "<movement-number>2</movement-number><movement-title>Jig</movement-title>", ""), []string{"title Dances 20 center", "subtitle 2. Jig 14 center", name}},
		{"a movement that has its number in its title", header("Dances", "<movement-number>2</movement-number><movement-title>2. Jig</movement-title>", ""), []string{"title Dances 20 center", "subtitle 2. Jig 14 center", name}},
		{"with their types", header("", "", "") + credit("title", "Dances", 500, 1300, "") + credit("composer", "Anna Test", 900, 1200, "") + credit("page number", "1", 900, 50, "") + credit("part name", "Score", 50, 1300, ""),
			[]string{"title Dances 20 center", "composer Anna Test 12 right", name}},
		{"by the header's texts", header("Dances", "", anna+rights) + credit("", "Dances", 100, 1300, "") + credit("", "Anna Test", 100, 1250, "") + credit("", "Free to copy", 100, 1240, ""),
			[]string{" Dances 20 center", " Anna Test 12 right", " Free to copy 9 center", name}},
		{"by their places", header("Dances", "", "") + credit("title", "Dances", 500, 1300, "") + credit("", "left", 290, 1200, "") + credit("", "right", 710, 1200, "") + credit("", "middle", 500, 1250, "") + credit("", "foot", 500, 200, ""),
			[]string{"title Dances 20 center", " left 12 left", " right 12 right", " middle 14 center", " foot 9 center", name}},
		{"without a place", header("Dances", "", "") + credit("title", "Dances", 500, 1300, "") + `<credit><credit-words justify="center">for Cleo</credit-words></credit><credit><credit-words default-x="900">Op. 3</credit-words></credit><credit><credit-words default-y="100">Free</credit-words></credit>`,
			[]string{"title Dances 20 center", " for Cleo 12 center", " Op. 3 12 right", " Free 9 center", name}},
		{"the edges of the places", header("Dances", "", "") + credit("title", "Dances", 500, 1300, "") + credit("", "a", 310, 1200, "") + credit("", "b", 690, 1200, "") + credit("", "c", 500, 220, ""),
			[]string{"title Dances 20 center", " a 14 center", " b 14 center", " c 14 center", name}},
		{"at the very edges", header("Dances", "", "") + credit("title", "Dances", 500, 1300, "") + credit("", "a", 300, 1200, "") + credit("", "b", 700, 1200, "") + credit("", "c", 500, 210, ""),
			[]string{"title Dances 20 center", " a 14 center", " b 14 center", " c 14 center", name}},
		{"sizes of the score's own stay, others are the role's", header("Dances", "", "") + `<credit><credit-type>title</credit-type><credit-words font-size="24">Dances</credit-words><credit-words>for two</credit-words></credit><credit><credit-type>rights</credit-type><credit-words>Free</credit-words></credit><credit><credit-type>poet</credit-type><credit-words>Ben</credit-words></credit><credit><credit-type>arranger</credit-type><credit-words>Cleo</credit-words></credit>`,
			[]string{"title Dances 24 for two 20 center", "rights Free 9 center", "poet Ben 12 left", "arranger Cleo 12 right", name}},
		{"what is the title of nothing", header("", "", "<source>x</source>"), []string{name}},
		{"a type in capitals, an empty type", header("Dances", "", "") + credit("TITLE", "Dances", 500, 1300, "") + `<credit><credit-type> </credit-type><credit-type>Composer</credit-type><credit-words>Anna Test</credit-words></credit>`, []string{"TITLE Dances 20 center", " Anna Test 12 right", name}},
		{"words of the first page alone, by number", header("Dances", "", "") + credit("title", "Dances", 500, 1300, ` page="1"`) + credit("", "Page three", 500, 1300, ` page="3"`), []string{"title Dances 20 center", name}},
		{"the movement's own title by its text", header("Dances", "<movement-title>Jig</movement-title>", "") + credit("", "Jig", 50, 1300, ""), []string{" Jig 20 center", name}},
		{"a movement called like the work", header("Dances", "<movement-title>Dances</movement-title>", "") + credit("composer", "Anna Test", 900, 1300, ""), []string{"title Dances 20 center", "composer Anna Test 12 right", name}},
		{"a movement half said", header("Dances", "<movement-number>3</movement-number><movement-title>Slow Jig</movement-title>", "") + credit("title", "Dances: Jig", 500, 1300, ""), []string{"title Dances: Jig 20 center", "subtitle 3. Slow Jig 14 center", name}},
		{"a number with its point", header("Dances", "<movement-number>IV.</movement-number><movement-title>Jig</movement-title>", ""), []string{"title Dances 20 center", "subtitle IV. Jig 14 center", name}},
		{"a title that no credit says", header("Dances", "", "") + credit("composer", "Anna Test", 900, 1200, ""), []string{"title Dances 20 center", "composer Anna Test 12 right", name}},
		{"a movement that a credit says", header("Dances", "<movement-title>Jig</movement-title>", "") + credit("title", "Dances: Jig", 500, 1300, ""), []string{"title Dances: Jig 20 center", name}},
		{"a movement that no credit says", header("Dances", "<movement-title>Jig</movement-title>", "") + credit("title", "Dances", 500, 1300, ""), []string{"title Dances 20 center", "subtitle Jig 14 center", name}},
		{"the second page", header("Dances", "", "") + credit("title", "Dances", 500, 1300, "") + credit("", "Page two", 500, 1300, ` page="2"`), []string{"title Dances 20 center", name}},
		{"the score's label and the part's own name", header("Dances", "", "") + credit("title", "Dances - Score in C", 500, 1300, "") + credit("", "Full Score", 50, 1300, "") + credit("", "oboe", 50, 1250, ""),
			[]string{"title Dances 20 center", name}},
	} {
		made := handedTo(t, scoreOf(t, "Oboe", music(t, "treble C5"), row.text), "", "")
		var got []string
		for _, c := range made.sheet.Document.FindElements("//credit") {
			words := c.SelectElement("credit-words")
			texts := []string{musicxml.ChildText(c, "credit-type")}
			for _, w := range c.SelectElements("credit-words") {
				texts = append(texts, w.Text(), w.SelectAttrValue("font-size", ""))
			}
			side := words.SelectAttrValue("halign", words.SelectAttrValue("justify", "left"))
			got = append(got, strings.Join(append(texts, side), " "))
		}
		assert.Equal(t, row.want, got, row.name)
	}
}
