package notate

import (
	"strings"

	"deskpart/musicxml/engraving"
)

// The characters that music fonts have for signs among letters, of the private
// range that the Standard Music Font Layout gives them (SMuFL 1.4, W3C Community
// Group; from memory), as files of editors have them in words.
var (
	fontNotes = map[rune]engraving.PieceNote{0xECA0: {Value: engraving.Breve}, 0xECA2: {Value: engraving.Whole}, 0xECA3: {Value: engraving.Half}, 0xECA4: {Value: engraving.Half},
		0xECA5: {Value: engraving.Quarter}, 0xECA6: {Value: engraving.Quarter}, 0xECA7: {Value: engraving.Eighth}, 0xECA8: {Value: engraving.Eighth}, 0xECA9: {Value: engraving.Sixteenth}, 0xECAA: {Value: engraving.Sixteenth}}
	fontLetters = strings.NewReplacer("\uE260", "♭", "\uE261", "♮", "\uE262", "♯", "\uE263", "\U0001D12A", "\uE264", "\U0001D12B",
		"\uE550", engraving.Elision, "\uE551", engraving.Elision, "\uE552", engraving.Elision, "\uE873", ",")
)

// fontDot is the dot of a note among letters.
const fontDot = '\uECB7'

// piecesOf cuts words into letters and the notes among them.
func piecesOf(text string) []engraving.Piece {
	text = fontLetters.Replace(text)
	var pieces []engraving.Piece
	from := 0
	letters := func(to int) {
		if from < to {
			pieces = append(pieces, engraving.Piece{Text: text[from:to]})
		}
	}
	for i, r := range text {
		note, isNote := fontNotes[r]
		switch {
		case isNote:
			letters(i)
			pieces = append(pieces, engraving.Piece{Note: &note})
		case string(r) == engraving.Elision:
			letters(i)
			pieces = append(pieces, engraving.Piece{Sign: "unstress"}) // a tie among small notes
		case r == fontDot && len(pieces) > 0 && pieces[len(pieces)-1].Note != nil && from == i:
			pieces[len(pieces)-1].Note.Dots++
		default:
			continue
		}
		from = i + len(string(r))
	}
	letters(len(text))
	return pieces
}
