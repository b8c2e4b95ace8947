package engraving

import "strings"

// The characters that music fonts have for signs among letters, of the private
// range that the Standard Music Font Layout gives them (SMuFL 1.4, W3C Community
// Group; from memory), as files of editors have them in words.
var (
	fontNotes = map[rune]PieceNote{0xECA0: {Value: Breve}, 0xECA2: {Value: Whole}, 0xECA3: {Value: Half}, 0xECA4: {Value: Half},
		0xECA5: {Value: Quarter}, 0xECA6: {Value: Quarter}, 0xECA7: {Value: Eighth}, 0xECA8: {Value: Eighth}, 0xECA9: {Value: Sixteenth}, 0xECAA: {Value: Sixteenth}}
	fontLetters = strings.NewReplacer("\uE260", "♭", "\uE261", "♮", "\uE262", "♯", "\uE263", "\U0001D12A", "\uE264", "\U0001D12B",
		"\uE550", elision, "\uE551", elision, "\uE552", elision, "\uE873", ",")
)

// fontDot is the dot of a note among letters.
const fontDot = '\uECB7'

// piecesOf cuts words into letters and the notes among them.
func piecesOf(text string) []Piece {
	text = fontLetters.Replace(text)
	var pieces []Piece
	from := 0
	letters := func(to int) {
		if from < to {
			pieces = append(pieces, Piece{Text: text[from:to]})
		}
	}
	for i, r := range text {
		note, isNote := fontNotes[r]
		switch {
		case isNote:
			letters(i)
			pieces = append(pieces, Piece{Note: &note})
		case string(r) == elision:
			letters(i)
			pieces = append(pieces, Piece{Sign: "unstress"}) // a tie among small notes
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
