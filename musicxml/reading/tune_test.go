package reading_test

import (
	"fmt"
	"regexp"
	"strings"
)

// tune writes a part in shorthand. Every note is a quarter note; bars are
// parted by "|".
//
//	F#4         <pitch>, without any sign
//	F#4<sharp>  with a printed sign; <(sharp)> in parentheses
//	F#4~ ~F#4   tied on, tied to
//	+A4         in the chord of the note before
//	g:F#4       grace note
//	h:F#4       not printed
//	<<          back to the start of the bar, for the next voice
//	=2          from here on staff 2
//	[XML]       anything else
func tune(music string) string {
	var xml strings.Builder
	xml.WriteString(`<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>`)
	bar, voice, staff, quarters := 1, 1, 1, 0
	for _, token := range regexp.MustCompile(`\[[^\]]*\]|\S+`).FindAllString(music, -1) {
		switch {
		case token == "|":
			bar++
			voice, staff, quarters = 1, 1, 0
			fmt.Fprintf(&xml, `</measure><measure number="%d">`, bar)
		case token == "<<":
			fmt.Fprintf(&xml, `<backup><duration>%d</duration></backup>`, quarters)
			voice++
			quarters = 0
		case token[0] == '=':
			staff = int(token[1] - '0')
		case token[0] == '[':
			xml.WriteString(token[1 : len(token)-1])
		default:
			text, length := noteXML(token, voice, staff)
			xml.WriteString(text)
			quarters += length
		}
	}
	return xml.String() + `</measure></part>`
}

var noteShape = regexp.MustCompile(`^(g:|h:)?(~)?(\+)?([A-G])(#*|b*|q)(\d)(?:<(\(?)([a-z-]+)\)?>)?(~)?$`)

func noteXML(token string, voice, staff int) (string, int) {
	m := noteShape.FindStringSubmatch(token)
	if m == nil {
		panic("not a note: " + token)
	}
	xml, length, ties := "<note>", 1, ""
	if m[1] == "h:" {
		xml = `<note print-object="no">`
	}
	if m[1] == "g:" {
		xml += "<grace/>"
	}
	if m[3] != "" {
		xml += "<chord/>"
	}
	xml += "<pitch><step>" + m[4] + "</step>" + alterXML(m[5]) + "<octave>" + m[6] + "</octave></pitch>"
	if m[1] != "g:" {
		xml += "<duration>1</duration>"
	}
	if m[1] == "g:" || m[3] != "" {
		length = 0
	}
	if m[2] != "" {
		ties += `<tied type="stop"/>`
	}
	if m[9] != "" {
		ties += `<tied type="start"/>`
	}
	xml += fmt.Sprintf("<voice>%d</voice>", voice)
	switch {
	case m[7] != "":
		xml += `<accidental parentheses="yes">` + m[8] + "</accidental>"
	case m[8] != "":
		xml += "<accidental>" + m[8] + "</accidental>"
	}
	return xml + fmt.Sprintf("<staff>%d</staff><notations>%s</notations></note>", staff, ties), length
}

func alterXML(signs string) string {
	switch {
	case signs == "":
		return ""
	case signs == "q":
		return "<alter>0.5</alter>"
	case signs[0] == 'b':
		return fmt.Sprintf("<alter>-%d</alter>", len(signs))
	}
	return fmt.Sprintf("<alter>%d</alter>", len(signs))
}
