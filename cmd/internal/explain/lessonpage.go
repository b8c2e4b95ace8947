package explain

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"html"
	"strings"

	"deskpart/cmd/internal/pages"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// listen is the page's script: it sounds the notes with the browser's own
// oscillators.
//
//go:embed listen.js
var listen string

// Page makes a lesson page of the explanation. The same explanation gives the
// same bytes.
func (e *Explanation) Page() ([]byte, error) {
	drawing, err := e.draw()
	if err != nil {
		return nil, err
	}
	title := e.Title()
	var b strings.Builder
	b.WriteString("<main>\n<h1>" + html.EscapeString(title) + "</h1>\n")
	if e.Key != nil {
		fmt.Fprintf(&b, "<p class=\"soft\">%s becomes %s.</p>\n", pretty(e.KeyName), pretty(e.AnswerKeyName))
	}
	if drawing != nil {
		e.writeMusic(&b, drawing)
	}
	e.writeRule(&b)
	e.writeWays(&b)
	e.writeSigns(&b)
	b.WriteString("</main>\n")
	page := pages.Page{Title: title, Style: lessonStyle, Body: b.String()}
	if drawing != nil {
		page.Drawings = []*engraving.Drawing{drawing}
		if page.Script, err = e.script(); err != nil {
			return nil, err
		}
	}
	return page.Bytes()
}

const lessonStyle = `.rule{padding-left:0;list-style:none}.rule li{margin:.5em 0}.rule strong{display:block}
.fifths{display:inline-flex;gap:.3em;flex-wrap:wrap;padding:0;margin:.3em 0;list-style:none}.fifths li{border:1px solid var(--line);border-radius:.3em;padding:.1em .6em;margin:0}
.fifths .here{border:2px solid var(--accent);font-weight:700}.fifths .to{background:var(--band)}
.listen{display:grid;grid-template-columns:repeat(auto-fit,minmax(13em,1fr));gap:.8em;margin:.6em 0}
.listen section{border:1px solid var(--line);border-radius:.5em;padding:.5em .8em .8em}.listen h3{margin:.2em 0}
.ways{border-collapse:collapse;width:100%}.ways th,.ways td{border-top:1px solid var(--line);padding:.35em .5em;text-align:left;vertical-align:top}
.ways thead th{border-top:0}.ways tr{break-inside:avoid}.ways .pitch{font-weight:700;white-space:nowrap}
.ways button{padding:.1em .6em}
.now{background:var(--band)}.now .pitch{text-decoration:underline;text-decoration-thickness:3px}
.music .now{fill:var(--accent);color:var(--accent);background:none}
.signs li{margin:.4em 0}
@media print{.listen,.ways .hear{display:none}}
`

func pretty(text string) string { return html.EscapeString(pages.PrettyText(text)) }

// draw puts the staff that sounds over the staff that is read.
func (e *Explanation) draw() (*engraving.Drawing, error) {
	if len(e.Notes) == 0 {
		return nil, nil
	}
	names := map[Side]string{Sounding: "Sounds", Written: "Written"}
	if e.Solution.Instrument == nil {
		names = map[Side]string{e.From: "Given", e.From.Other(): "Answer"}
	}
	given, err := engraving.FromPart(e.Solution.Given, engraving.PartOptions{Name: names[e.From]})
	if err != nil {
		return nil, err
	}
	answer, err := engraving.FromPart(e.Solution.Answer, engraving.PartOptions{Name: names[e.From.Other()]})
	if err != nil {
		return nil, err
	}
	e.nameNotes(given, func(p Pair) pitch.Pitch { return p.From })
	e.nameNotes(answer, func(p Pair) pitch.Pitch { return p.To })
	both, err := engraving.Stack(given, answer)
	if err != nil {
		return nil, err
	}
	both.Groups = []engraving.Group{{From: 0, To: 1, Symbol: engraving.Bracket, Barlines: true}}
	return engraving.Draw(both, engraving.Options{Width: 96, Ragged: e.unmeasured(), Unnumbered: e.unmeasured()})
}

// unmeasured reports whether the music is a row of notes without rhythm.
func (e *Explanation) unmeasured() bool {
	return e.Solution.Given.FindElement("measure/attributes/time/senza-misura") != nil
}

// nameNotes writes each note's name under it, so that the path is read downwards.
func (e *Explanation) nameNotes(m *engraving.Music, side func(Pair) pitch.Pitch) {
	for _, p := range e.Solution.Pairs {
		measure := &m.Staves[0].Measures[p.Bar]
		if p.Chord || p.TieStop {
			continue
		}
		measure.Marks = append(measure.Marks, engraving.Mark{Onset: p.Onset, Kind: engraving.MarkNote, Text: pages.Pretty(side(p))})
	}
}

func (e *Explanation) writeMusic(b *strings.Builder, d *engraving.Drawing) {
	b.WriteString("<section aria-labelledby=\"music\">\n<h2 id=\"music\">Note under note</h2>\n<div class=\"scroll\">\n" + d.Figures() + "</div>\n")
	written, heard := "As it is written, played on a piano", "As "+lowerFirst(e.Solution.subject())+" sounds"
	if e.Solution.Instrument == nil {
		written, heard = "The "+e.word(Written), "The "+e.word(Sounding)
	}
	fmt.Fprintf(b, `<div class="listen screen">
<section><h3>%s</h3><p><button type="button" data-play="written">Play what is written</button></p></section>
<section><h3>%s</h3><p><button type="button" data-play="sounding">Play what sounds</button></p></section>
<section><h3>One after the other</h3><p><button type="button" data-play="both">Play both, note by note</button> <button type="button" data-stop>Stop</button></p></section>
</div>
<p class="soft screen" id="playing" role="status" aria-live="polite"></p>
</section>
`, written, pretty(heard))
}

// word says which side of a plain transposition is which.
func (e *Explanation) word(s Side) string {
	if s == e.From {
		return "given notes"
	}
	return "answer"
}

// writeRule lists the steps that hold for all notes.
func (e *Explanation) writeRule(b *strings.Builder) {
	b.WriteString("<section aria-labelledby=\"rule\">\n<h2 id=\"rule\">The rule</h2>\n<ol class=\"rule\">\n")
	for _, s := range e.Steps {
		if s.About == AboutNote || s.About == AboutAccidental {
			continue
		}
		text, _, _ := strings.Cut(s.Text, " Line of fifths:")
		fmt.Fprintf(b, "<li><strong>%s</strong> %s", headings[s.About], pretty(text))
		if s.About == AboutKey && e.Solution.Moved.Fifths() != 0 {
			e.writeFifths(b)
		}
		b.WriteString("</li>\n")
	}
	b.WriteString("</ol>\n</section>\n")
}

// writeFifths draws the stretch of the line of fifths between both keys.
func (e *Explanation) writeFifths(b *strings.Builder) {
	from, to := *e.Key, *e.AnswerKey
	b.WriteString("<ol class=\"fifths\" aria-label=\"Line of fifths\">")
	for place := min(from, to) - 1; place <= max(from, to)+1; place++ {
		class, says := "", ""
		switch place {
		case from:
			class, says = " class=\"here\"", " given"
		case to:
			class, says = " class=\"here to\"", " answer"
		}
		name := pitch.FifthsName(place)
		fmt.Fprintf(b, "<li%s>%s<span class=\"soft\">%s</span></li>", class, pretty(pages.PrettyName(name)), says)
	}
	b.WriteString("</ol>")
}

// writeWays lists each note's path.
func (e *Explanation) writeWays(b *strings.Builder) {
	if len(e.paths) == 0 {
		return
	}
	b.WriteString("<section aria-labelledby=\"ways\">\n<h2 id=\"ways\">Each note’s path: the letter first, then the semitones</h2>\n" +
		"<div class=\"scroll\"><table class=\"ways\"><thead><tr><th scope=\"col\">Note</th><th scope=\"col\">Given</th><th scope=\"col\">Answer</th><th scope=\"col\">Path</th><th scope=\"col\" class=\"hear screen\">Hear</th></tr></thead>\n<tbody>\n")
	for i, w := range e.paths {
		fmt.Fprintf(b, "<tr data-note=\"%d\"><th scope=\"row\">%d</th><td class=\"pitch\">%s</td><td class=\"pitch\">%s</td><td>%s</td>"+
			"<td class=\"hear screen\"><button type=\"button\" data-hear=\"%d\" aria-label=\"Hear note %d, given and answer\">▶</button></td></tr>\n",
			i, i+1, pages.PrettyPitch(w.pair.From), pages.PrettyPitch(w.pair.To), pretty(w.text()), i, i+1)
	}
	b.WriteString("</tbody></table></div>\n</section>\n")
}

// writeSigns lists the accidentals and why their kind may change.
func (e *Explanation) writeSigns(b *strings.Builder) {
	var items strings.Builder
	for _, s := range e.Steps {
		if s.About == AboutAccidental {
			fmt.Fprintf(&items, "<li><strong>Note %d.</strong> %s</li>\n", s.Note, pretty(s.Text))
		}
	}
	if items.Len() == 0 {
		return
	}
	b.WriteString("<section aria-labelledby=\"signs\">\n<h2 id=\"signs\">Accidentals</h2>\n<p>What is raised stays raised and what is lowered stays lowered; only the sign that says so may change.</p>\n<ul class=\"signs\">\n" + items.String() + "</ul>\n</section>\n")
}

// heardNote is a note for the script: where it stands in time, both pitches as
// MIDI numbers, its bar, and its name on either side.
type heardNote struct {
	Start    float64 `json:"start"`
	Length   float64 `json:"length"`
	Written  float64 `json:"written"`
	Sounding float64 `json:"sounding"`
	Bar      int     `json:"bar"`
	Chord    bool    `json:"chord"`
}

// script gives the script its notes, in quarter notes; unmeasured notes are a
// quarter long.
func (e *Explanation) script() (string, error) {
	var notes []heardNote
	for i, p := range e.Solution.Pairs {
		n := heardNote{Start: p.Start.Float(), Length: p.Duration.Float(), Bar: p.Bar + 1, Chord: p.Chord}
		if e.unmeasured() {
			n.Start, n.Length = float64(i), 1
		}
		n.Written, n.Sounding = midi(p.To), midi(p.From)
		if e.From == Written {
			n.Written, n.Sounding = midi(p.From), midi(p.To)
		}
		if p.TieStop {
			lengthen(notes, n, p.Duration)
			n.Length = 0
		}
		notes = append(notes, n)
	}
	data, err := json.Marshal(notes)
	if err != nil {
		return "", err
	}
	given := string(e.From)
	return fmt.Sprintf("const notes = %s;\nconst given = %q;\n%s", data, given, listen), nil
}

// lengthen adds the end of a tie to the note that sounds.
func lengthen(notes []heardNote, end heardNote, by musicxml.Fraction) {
	for i := len(notes) - 1; i >= 0; i-- {
		if n := &notes[i]; n.Written == end.Written && n.Length > 0 {
			n.Length += by.Float()
			return
		}
	}
}

func midi(p pitch.Pitch) float64 { return float64(p.MIDI()) / float64(pitch.Semitone) }
