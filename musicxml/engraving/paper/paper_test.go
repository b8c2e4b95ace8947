package paper_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/engraving/paper"
)

// music draws measures of MusicXML in 4/4.
func music(t *testing.T, measures ...string) *engraving.Music {
	t.Helper()
	text := "<part>"
	for i, m := range measures {
		head := ""
		if i == 0 {
			head = "<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>"
		}
		text += fmt.Sprintf(`<measure number="%d">%s%s</measure>`, i+1, head, m)
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text+"</part>"))
	m, err := notate.Part(doc.Root(), notate.Options{RestBars: 2})
	require.NoError(t, err)
	return m
}

const (
	empty    = `<note><rest measure="yes"/><duration>8</duration></note>`
	halfRest = `<note><rest/><duration>4</duration><type>half</type></note>`
	halfNote = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>half</type></note>`
	quaver   = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><type>eighth</type></note>`
	busy     = quaver + quaver + quaver + quaver + quaver + quaver + quaver + quaver
)

func tempo(words string) string {
	return `<direction><direction-type><words>` + words + `</words></direction-type><sound tempo="90"/></direction>`
}

// Seconds by hand: at 60 quarter notes a minute a bar of 4/4 lasts four.
func TestTimes(t *testing.T) {
	t.Parallel()
	metronome := `<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>30</per-minute></metronome></direction-type></direction>`
	pause := `<direction><direction-type><words>G.P.</words></direction-type></direction>`
	times := paper.Times(music(t, metronome+halfNote+halfRest, halfRest+halfNote, empty, empty, empty, busy, pause+empty))
	want := []paper.BarTime{{Seconds: 4, After: 2}, {Seconds: 4, Before: 2}, {Seconds: 12, Before: 12, After: 12}, {Seconds: 4}, {Seconds: 4, Before: 4, After: 4, Pause: true}}
	require.Len(t, times, len(want))
	for i := range want {
		assert.InDeltaSlice(t, []float64{want[i].Seconds, want[i].Before, want[i].After}, []float64{times[i].Seconds, times[i].Before, times[i].After}, 1e-9, "bar %d", i)
		assert.Equal(t, want[i].Pause, times[i].Pause, "bar %d", i)
	}
	slow, quick := paper.Times(music(t, tempo("Largo")+empty)), paper.Times(music(t, tempo("Presto")+empty))
	assert.Greater(t, slow[0].Seconds, 2*quick[0].Seconds, "words are believed where no number stands")
}

func TestParseSize(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		text string
		want paper.Size
	}{{"a4", paper.Size{Width: 210, Height: 297}}, {"Letter", paper.Size{Width: 215.9, Height: 279.4}}, {"b4", paper.Size{Width: 257, Height: 364}},
		{"240x320", paper.Size{Width: 240, Height: 320}}, {"240 × 320 mm", paper.Size{Width: 240, Height: 320}}, {"9.5x12.5in", paper.Size{Width: 241.3, Height: 317.5}}} {
		got, err := paper.ParseSize(row.text)
		require.NoError(t, err, row.text)
		assert.InDelta(t, float64(row.want.Width), float64(got.Width), 1e-9, row.text)
		assert.InDelta(t, float64(row.want.Height), float64(got.Height), 1e-9, row.text)
	}
	for _, text := range []string{"", "a5x", "0x0", "10x10", "-210x297", "210", "1e9x1e9", "NaNx297", "210x297x3"} {
		_, err := paper.ParseSize(text)
		assert.Error(t, err, text)
	}
}

// A long part: every bar stands once, in order; all ink keeps to the paper; pages
// are turned in rests.
func TestLay(t *testing.T) {
	t.Parallel()
	var measures []string
	for i := range 240 {
		if i%16 >= 13 {
			measures = append(measures, empty)
			continue
		}
		measures = append(measures, busy)
	}
	m := music(t, measures...)
	book := &paper.Book{Instrument: "Horn in F", Title: "Lanterns on the Quay", Composer: "invented", Rights: "for the stand",
		Movements: []paper.Movement{{Title: "I. Morning", Music: m, Bars: paper.Times(m)}, {Title: "II. Fog"}, {Title: "III. Noon", Music: m, Bars: paper.Times(m)}}}
	for _, o := range []paper.Options{{}, {Large: true}, {Paper: paper.Size{Width: 257, Height: 364}, Staff: 7.5, Margin: 10}, {OneSided: true}} {
		laid, err := paper.Lay(book, o)
		require.NoError(t, err)
		checkPages(t, laid, m)
		assert.Equal(t, o.OneSided, len(laid.Turns) == 0)
		for _, turn := range laid.Turns {
			assert.True(t, turn.InTime(), "page %d: %g s", turn.Page, turn.Rest)
			assert.Equal(t, 1, turn.Page%2, "right-hand pages are turned")
		}
	}
}

// A staff that is hidden takes no room: the pages are those of the music without it.
func TestHiddenStaffTakesNoRoom(t *testing.T) {
	t.Parallel()
	pages := func(extra string) (systems []int) {
		var measures []string
		for i := range 240 {
			measures = append(measures, []string{busy, empty}[i%16/13])
		}
		measures[0] = extra + busy
		m := music(t, measures...)
		laid, err := paper.Lay(&paper.Book{Movements: []paper.Movement{{Music: m, Bars: paper.Times(m)}}}, paper.Options{Staff: 6})
		require.NoError(t, err)
		for _, span := range laid.Spans {
			systems = append(systems, span.Systems)
		}
		return systems
	}
	assert.Equal(t, pages(""), pages(`<attributes><staves>2</staves><staff-details number="2" print-object="no"/></attributes>`))
}

func checkPages(t *testing.T, laid *paper.Laid, m *engraving.Music) {
	t.Helper()
	bar, systems, texts := 0, 0, map[string]int{}
	for _, p := range laid.Pages {
		for i := range p.Blocks {
			b := &p.Blocks[i]
			if b.System != nil {
				systems++
				if bar == len(m.Bars) {
					bar = 0
				}
				assert.Equal(t, bar+1, b.System.First)
				bar = b.System.Last
			}
			b.Walk(func(item display.Item, down display.Spaces) {
				box := item.Shape.Bounds().Moved(0, down)
				left, right := b.Left+box.Left.On(b.Space), b.Left+box.Right.On(b.Space)
				top, foot := b.Top+box.Top.On(b.Space), b.Top+box.Bottom.On(b.Space)
				assert.True(t, left > 0 && top > 0 && right < p.Width && foot < p.Height, "ink at %g %g %g %g", left, top, right, foot)
				if text, ok := item.Shape.(display.Text); ok {
					texts[text.Text]++
				}
			})
		}
	}
	assert.Equal(t, len(m.Bars), bar, "all bars of the last movement stand")
	assert.Equal(t, systems, func() (n int) {
		for _, s := range laid.Spans {
			n += s.Systems
		}
		return n - 1 // the silent movement is a line without music
	}())
	for _, want := range []string{"Lanterns on the Quay", "invented", "for the stand", "I. Morning", "II. Fog", "III. Noon", "tacet"} {
		assert.Equal(t, 1, texts[want], want)
	}
	assert.Equal(t, len(laid.Pages), texts["Horn in F"], "the instrument stands on every page")
}

// A bar that is wider than the page and cannot be divided, for a note sounds on through all
// of it, stands in a smaller staff and keeps to the page.
func TestLaySetsWideBarsSmaller(t *testing.T) {
	t.Parallel()
	note := func(octave, duration, voice string) string {
		return `<note><pitch><step>C</step><octave>` + octave + `</octave></pitch><duration>` + duration + `</duration><voice>` + voice + `</voice></note>`
	}
	wide := strings.Repeat(note("5", "1", "1"), 100) + `<backup><duration>100</duration></backup>` + note("4", "100", "2")
	b := &paper.Book{Movements: []paper.Movement{{Music: music(t, empty, wide, busy)}}}
	laid, err := paper.Lay(b, paper.Options{})
	require.NoError(t, err)
	require.Len(t, laid.Small, 1)
	assert.Equal(t, 1, laid.Small[0].Bar)
	assert.Less(t, float64(laid.Small[0].Staff), 8.0)
	var right display.Millimetres
	for _, block := range laid.Pages[0].Blocks {
		block.Walk(func(item display.Item, _ display.Spaces) {
			if item.Role == display.RoleStaffLine {
				right = max(right, block.Left+item.Shape.Bounds().Right.On(block.Space))
			}
		})
	}
	assert.InDelta(t, 195, float64(right), 0.3)
}

func TestOptionsThatLeaveNoRoom(t *testing.T) {
	t.Parallel()
	book := &paper.Book{Movements: []paper.Movement{{Music: music(t, busy)}}}
	for _, o := range []paper.Options{{Staff: 1}, {Staff: 40}, {Margin: 100}, {Margin: -1}, {Paper: paper.Size{Width: 50, Height: 50}}} {
		_, err := paper.Lay(book, o)
		assert.Error(t, err)
	}
	_, err := paper.Lay(&paper.Book{}, paper.Options{})
	assert.Error(t, err)
}

// The paper that is usual: A4 but for English, where the document decides.
func TestUsualSize(t *testing.T) {
	t.Parallel()
	a4, letter := paper.Size{Width: 210, Height: 297}, paper.Size{Width: 215.9, Height: 279.4}
	for _, row := range []struct {
		language  string
		own, want paper.Size
	}{{"de", paper.Size{}, a4}, {"de", letter, a4}, {"en", paper.Size{}, letter}, {"en", letter, letter}, {"", paper.Size{Width: 209.99, Height: 296.9}, a4}, {"en-GB", a4, a4}} {
		assert.Equal(t, row.want, paper.UsualSize(row.language, row.own), "%s, set for %v", row.language, row.own)
	}
}

// A score may have nothing but its music: no title, no creators, no credits.
func TestReadBareScore(t *testing.T) {
	t.Parallel()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<score-partwise><part-list><score-part id="P1"><part-name>Cello</part-name></score-part></part-list>`+
		`<part id="P1"><measure number="1"><attributes><divisions>2</divisions></attributes>`+busy+`</measure></part></score-partwise>`))
	book, err := paper.Read(doc.Root(), 2)
	require.NoError(t, err)
	assert.Equal(t, "Cello", book.Instrument)
	assert.Empty(t, book.Title+book.Composer+book.Rights)
	require.Len(t, book.Movements, 1)
}

// A header that says nothing, and one whose subtitle is what stands over the music.
func TestReadTitles(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, header, title, subtitle, heading string }{
		{"nothing", "", "", "", ""},
		{"movement of a work", "<work><work-title>Low Water</work-title></work><movement-number>2</movement-number><movement-title>Ebb</movement-title>" +
			"<credit><credit-type>title</credit-type><credit-words>Low Water</credit-words></credit>" +
			"<credit><credit-type>subtitle</credit-type><credit-words>2\n2. Ebb\nfor small band</credit-words></credit>", "Low Water", "for small band", "2. Ebb"},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString("<score-partwise>"+row.header+`<part id="P1"><measure number="1">`+empty+"</measure></part></score-partwise>"))
		book, err := paper.Read(doc.Root(), 0)
		require.NoError(t, err, row.name)
		assert.Equal(t, []string{row.title, row.subtitle, row.heading}, []string{book.Title, book.Subtitle, book.Movements[0].Title}, row.name)
	}
}

// A long title does not run into the instrument's name, nor who wrote the words into who
// wrote the music.
func TestTitleKeepsClear(t *testing.T) {
	t.Parallel()
	for _, words := range []string{"words by another", "words after an old ballad of the northern coast, collected by another"} {
		book := &paper.Book{Instrument: "Contrabass Clarinet in B♭", Title: "A Title That Is Too Long for the Middle", Subtitle: "and a subtitle that is long as well, as it goes",
			Composer: "invented by somebody with a long name", Lyricist: words, Movements: []paper.Movement{{Music: music(t, busy)}}}
		laid, err := paper.Lay(book, paper.Options{})
		require.NoError(t, err)
		var boxes []display.Rect
		for i := range laid.Pages[0].Blocks {
			if b := &laid.Pages[0].Blocks[i]; b.System == nil && b.Purpose != display.Furniture {
				b.Walk(func(item display.Item, down display.Spaces) {
					boxes = append(boxes, item.Shape.Bounds().Moved(0, down+display.Spaces(b.Top/b.Space)))
				})
			}
		}
		require.Len(t, boxes, 5)
		for i, a := range boxes {
			for _, b := range boxes[i+1:] {
				assert.False(t, a.Left < b.Right && b.Left < a.Right && a.Top+0.5 < b.Bottom && b.Top+0.5 < a.Bottom, "%v and %v", a, b)
			}
		}
	}
}

// Lines whose ink is close get air where the page has room for it, and the rights keep
// away from the music.
func TestLinesHaveAirWhereThereIsRoom(t *testing.T) {
	t.Parallel()
	note := func(octave int) string {
		return fmt.Sprintf(`<note><pitch><step>C</step><octave>%d</octave></pitch><duration>4</duration><type>half</type></note>`, octave)
	}
	for _, row := range []struct {
		bars int
		air  float64 // least, in spaces
	}{{12, 2}, {300, 0.8}} {
		var measures []string
		for range row.bars {
			measures = append(measures, note(3)+note(7)) // far below and above the staff
		}
		laid, err := paper.Lay(&paper.Book{Rights: "for the stand", Movements: []paper.Movement{{Music: music(t, measures...)}}}, paper.Options{OneSided: true})
		require.NoError(t, err)
		for _, page := range laid.Pages {
			foot, rights := display.Millimetres(0), page.Height
			for i := range page.Blocks {
				b := &page.Blocks[i]
				top, bottom := inkOf(b)
				switch {
				case b.System != nil && foot > 0:
					assert.GreaterOrEqual(t, float64((top-foot)/b.Space), row.air-0.01, "%d bars", row.bars)
					foot = bottom
				case b.System != nil:
					foot = bottom
				case b.Purpose == display.Paragraph:
					rights = top
				}
			}
			assert.Greater(t, float64(rights-foot), 4.0, "%d bars", row.bars)
		}
	}
}

// inkOf is the upper and the lower edge of a block's ink on the page.
func inkOf(b *display.Block) (top, bottom display.Millimetres) {
	first := true
	b.Walk(func(item display.Item, down display.Spaces) {
		box := item.Shape.Bounds()
		upper, lower := b.Top+(box.Top+down).On(b.Space), b.Top+(box.Bottom+down).On(b.Space)
		if first {
			top, bottom, first = upper, lower, false
		}
		top, bottom = min(top, upper), max(bottom, lower)
	})
	return top, bottom
}

// The staff that is usual (kriterien, metropole; choirs and tablature common practice).
func TestUsualStaff(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	tab := `<attributes><clef><sign>TAB</sign><line>5</line></clef></attributes>`
	second := `<attributes><staves>2</staves><clef number="2"><sign>TAB</sign><line>5</line></clef></attributes>`
	for _, row := range []struct {
		instrument, head string
		want             float64
	}{{"horn-f", "", 7.5}, {"violin", "", 8}, {"", "", 8}, {"", `<attributes><staves>4</staves></attributes>`, 6}, {"guitar", tab, 10}, {"guitar", second, 8}} {
		m := music(t, row.head+empty)
		if row.head == tab {
			m.Staves[0].Measures[0].Changes = m.Staves[0].Measures[0].Changes[1:] // the treble clef before it
		}
		got := paper.UsualStaff(catalogue.ByID(row.instrument), &paper.Book{Movements: []paper.Movement{{Music: m}}})
		assert.InDelta(t, row.want, float64(got), 0, "%s %s", row.instrument, row.head)
	}
}
