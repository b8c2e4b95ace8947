package paper

import (
	"cmp"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/notate"
)

// Read makes the book of one movement out of a part's document: what its credits
// and its header say, and its music. restBars gathers that many or more empty bars
// in a row into one multi-bar rest, 0 only those that the part announces. The error
// names measure and beat where the part cannot be read.
func Read(root *etree.Element, restBars int) (*Book, error) {
	part := musicxml.Child(root, "part")
	if part == nil {
		return nil, errEmpty
	}
	music, err := notate.Part(part, notate.Options{RestBars: restBars})
	if err != nil {
		return nil, err
	}
	b := readTitles(root)
	b.Movements = []Movement{{Title: movementTitle(root), Music: music, Bars: Times(music)}}
	for _, measure := range musicxml.Children(part, "measure") {
		b.Movements[0].Measures = append(b.Movements[0].Measures, musicxml.Attr(measure, "number"))
	}
	return b, nil
}

// Join makes one book of those of a player's movements, in order: the heads are
// the first's, under the title of the whole work where the movements say it.
func Join(movements ...*Book) *Book {
	if len(movements) == 1 {
		return movements[0]
	}
	first := movements[0]
	for _, b := range movements {
		if first.Instrument+first.Title == "" { // a movement without a document
			first = b
		}
	}
	whole := *first
	whole.Movements, whole.Subtitle = nil, ""
	if whole.Work != "" {
		whole.Title = whole.Work
	}
	for _, b := range movements {
		whole.Movements = append(whole.Movements, b.Movements...)
	}
	return &whole
}

// readTitles reads what stands round the music of the first page. The credits come
// first, because they are what the part prints; what they leave out the header has.
func readTitles(root *etree.Element) *Book {
	credits := readCredits(root)
	creators := readCreators(root)
	b := &Book{
		Instrument: cmp.Or(credits["part name"], plain(musicxml.Text(musicxml.Descend(root, "part-list", "score-part", "part-name")))),
		Work:       plain(musicxml.Text(musicxml.Descend(root, "work", "work-title"))),
		Composer:   cmp.Or(credits["composer"], creators["composer"]),
		Arranger:   cmp.Or(credits["arranger"], creators["arranger"]),
		Lyricist:   cmp.Or(credits["lyricist"], creators["lyricist"], creators["poet"]),
		Rights:     cmp.Or(credits["rights"], plain(musicxml.Text(musicxml.Descend(root, "identification", "rights")))),
		Sheet:      readSheet(root),
	}
	movement := plain(musicxml.ChildText(root, "movement-title"))
	b.Title = cmp.Or(credits["title"], b.Work, movement)
	b.Subtitle = withoutHeading(credits["subtitle"], root)
	return b
}

// withoutHeading leaves out the lines of a subtitle that stand over the movement's
// music: its number, its title, or both.
func withoutHeading(subtitle string, root *etree.Element) string {
	number, title := plain(musicxml.ChildText(root, "movement-number")), plain(musicxml.ChildText(root, "movement-title"))
	said := []string{number, number + ".", title, movementTitle(root), number + " " + title}
	var kept []string
	for _, line := range lines(subtitle) {
		if !slices.Contains(said, line) {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n")
}

// readCredits joins the words of the first page's credits by what they are, line
// by line (MusicXML 4.0, credit-type).
func readCredits(root *etree.Element) map[string]string {
	lines := map[string][]string{}
	for _, credit := range musicxml.Children(root, "credit") {
		kind := strings.ToLower(strings.TrimSpace(musicxml.ChildText(credit, "credit-type")))
		if page := musicxml.Attr(credit, "page"); kind == "" || page != "" && page != "1" {
			continue
		}
		for _, line := range creditLines(credit) {
			if !slices.Contains(lines[kind], line) {
				lines[kind] = append(lines[kind], line)
			}
		}
	}
	joined := map[string]string{}
	for kind, all := range lines {
		joined[kind] = strings.Join(all, "\n")
	}
	return joined
}

// creditLines are the lines of a credit's words, its pieces put together.
func creditLines(credit *etree.Element) (lines []string) {
	var text strings.Builder
	for _, words := range musicxml.Children(credit, "credit-words") {
		text.WriteString(musicxml.Text(words))
	}
	for line := range strings.Lines(text.String()) {
		if line = plain(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// readCreators joins the names of the header's creators by what they did.
func readCreators(root *etree.Element) map[string]string {
	names := map[string]string{}
	for creator := range musicxml.Each(musicxml.Child(root, "identification"), "creator") {
		kind, name := strings.ToLower(musicxml.Attr(creator, "type")), plain(musicxml.Text(creator))
		if names[kind] != "" && name != "" {
			name = names[kind] + "\n" + name
		}
		if name != "" {
			names[kind] = name
		}
	}
	return names
}

// movementTitle is a movement's number and title as they stand over its music.
func movementTitle(root *etree.Element) string {
	number, title := plain(musicxml.ChildText(root, "movement-number")), plain(musicxml.ChildText(root, "movement-title"))
	switch {
	case number == "" || strings.HasPrefix(title, number):
		return title
	case title == "":
		return number
	}
	return strings.TrimSuffix(number, ".") + ". " + title
}

// plain is a text without line breaks and double blanks.
func plain(text string) string { return strings.Join(strings.Fields(text), " ") }
