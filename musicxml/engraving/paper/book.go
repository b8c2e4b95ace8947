package paper

import (
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

// Book is all that one player plays.
type Book struct {
	// Instrument is the player's, as it stands at the head of the first page.
	Instrument string
	// Title, Subtitle, Composer, Arranger and Lyricist are those of the work; Rights
	// stand at the foot of the first page. Each may be empty and have several lines.
	Title, Subtitle, Composer, Arranger, Lyricist, Rights string
	// Work is the title of the whole work, where Title is that of a movement.
	Work string
	// Sheet is the paper that the document was set for; zero where it does not say.
	Sheet     Size
	Movements []Movement
}

// firstPage is the number of the first page: a right-hand page.
const firstPage = 1

// Movement is one movement of a book.
type Movement struct {
	// Title stands over the first line; it may be empty in a work of one movement.
	Title string
	// Music is what is played, nil where the player is silent.
	Music *engraving.Music
	// Measures are the numbers of the document's measures, in order.
	Measures []string
	// Bars has the time of each bar of the music; nil where it is not known, and
	// then no turn has time.
	Bars []BarTime
}

// BarTime is when there is time to turn in a bar as it is drawn (a multi-bar rest
// is one).
type BarTime struct {
	// Seconds is how long the bar lasts; Before and After are the rests at its
	// beginning and end, both as long as the bar where it is empty.
	Seconds, Before, After float64
	// Pause says that everybody is silent in it, so that nobody may turn a page.
	Pause bool
}

// Turn is a page turn that needs a hand.
type Turn struct {
	// Page is the number of the page that is turned.
	Page int
	// Rest is the time that the player has, in seconds.
	Rest float64
	// Bar is the bar that ends the page, in movement Movement; both from 0.
	Movement, Bar int
}

// enough is the rest that a turn takes, in seconds (quince; w-rest).
const enough = 3

// InTime reports whether the player can turn without haste.
func (t Turn) InTime() bool { return t.Rest >= enough }

// Span is what stands on a page: the first and the last bar, each with its
// movement, from 0.
type Span struct {
	FirstMovement, FirstBar int
	LastMovement, LastBar   int
	Systems                 int
}

// Laid is a book on paper.
type Laid struct {
	Pages []display.Page
	Spans []Span // of each page
	Turns []Turn
	Small []Small // lines that did not fit the page, in order
}

// Small is a line that is set smaller, because its one bar is wider than the page and
// cannot be divided.
type Small struct {
	Movement, Bar int // from 0
	Staff         display.Millimetres
}
