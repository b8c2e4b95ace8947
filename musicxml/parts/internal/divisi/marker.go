package divisi

import "strings"

// Marker is what words say about who plays.
type Marker struct {
	Numbers []int // the players named, as the words have their numbers
	All     bool  // everybody: "a 2", "unis.", "tutti"
	Count   int   // the 2 of "a 2", 0 where no number says how many
	Divided bool  // "div."
	// Bare: nothing but digits, which may be something else, such as a count of
	// repeated bars.
	Bare bool
	// Text is what remains on the part of those who play: "Solo", "dolce".
	Text string
}

// Read reads a text that begins with words of the lexicon. Names are words that
// may stand beside a number, such as "Fl." in "Fl. 1"; they are read past.
func (l *Lexicon) Read(text string, names []string) (Marker, bool) {
	r := markerReader{lexicon: l, text: text, tokens: tokenize(text)}
	for _, name := range names {
		if t := tokenize(name); len(t) > 0 {
			r.names = append(r.names, t)
		}
	}
	return r.read()
}

// markerReader reads one text.
type markerReader struct {
	lexicon *Lexicon
	text    string
	tokens  []token
	names   [][]token
	at      int
	found   bool // a phrase was
	marker  Marker
	kept    []string
}

func (r *markerReader) read() (Marker, bool) {
	for {
		r.skipName()
		if r.at < len(r.tokens) && r.phrase() {
			continue
		}
		if !r.found || !r.join() {
			break
		}
	}
	if !r.found || !r.ends() {
		return Marker{}, false
	}
	if r.at < len(r.tokens) {
		r.kept = append(r.kept, strings.Trim(r.text[r.tokens[r.at].start:], " \t\n,;:–-)]"))
	}
	r.marker.Text = strings.Join(r.kept, " ")
	r.marker.Bare = len(r.tokens) == 1 && r.tokens[0].wildcard() == "#"
	return r.marker, true
}

// phrase takes the longest phrase of the lexicon that stands next.
func (r *markerReader) phrase() bool {
	p, taken, number := r.lexicon.longest(r.tokens[r.at:])
	if taken == 0 {
		return false
	}
	m := &r.marker
	switch p.says {
	case "number":
		m.Numbers = append(m.Numbers, number)
	case "all":
		m.All, m.Count = true, number
	case "divided":
		m.Divided = true
	case "solo":
		r.keep(taken)
	case "tutti":
		m.All = true
		r.keep(taken)
	}
	r.at += taken
	r.found = true
	return true
}

// keep notes the next tokens as words that stay on the part.
func (r *markerReader) keep(taken int) {
	r.kept = append(r.kept, strings.TrimSpace(r.text[r.tokens[r.at].start:r.tokens[r.at+taken-1].end]))
}

// join steps over a word between two markers, where another one follows.
func (r *markerReader) join() bool {
	if r.at >= len(r.tokens) || !r.lexicon.joins[r.tokens[r.at].text] {
		return false
	}
	if r.at+1 == len(r.tokens) {
		r.at++
		return false
	}
	if _, taken, _ := r.lexicon.longest(r.tokens[r.at+1:]); taken == 0 {
		return false
	}
	r.at++
	return true
}

// skipName reads past the name of an instrument beside a marker.
func (r *markerReader) skipName() {
	for _, name := range r.names {
		n := prefix(r.tokens[r.at:], name)
		if n > 0 {
			r.at += n
			return
		}
	}
}

// prefix returns how many tokens a name takes at the start, full stop included.
func prefix(tokens, name []token) int {
	if len(tokens) < len(name) {
		return 0
	}
	for i := range name {
		if tokens[i].text != name[i].text {
			return 0
		}
	}
	n := len(name)
	if n < len(tokens) && tokens[n].text == "." {
		n++
	}
	return n
}

// ends reports whether the marker ends where a word ends, and what follows does
// not give the number another meaning.
func (r *markerReader) ends() bool {
	if r.at >= len(r.tokens) {
		return true
	}
	next := r.tokens[r.at]
	if r.lexicon.nots[next.text] {
		return false
	}
	return !next.glued || r.tokens[r.at-1].text == "." || strings.Contains(",;:", next.text)
}
