package proof

import (
	"slices"
	"strings"

	"deskpart/transpose/pitch"
)

// keys lists the keys from bar to bar.
func (w partWriter) keys() {
	rows := w.part.Keys
	if len(rows) == 0 {
		return
	}
	columns := w.keyColumns(rows)
	w.write("<div>" + w.heading("Keys") + "\n<table class=\"keys\"><thead><tr><th scope=\"col\">From</th>")
	for _, c := range columns {
		w.writef("<th scope=\"col\">%s</th>", c.head)
	}
	w.write("</tr></thead>\n<tbody>\n")
	for i := range rows {
		w.writef("<tr><th scope=\"row\">%s</th>", atFirst(w.at(rows[i].Measure, "")))
		for _, c := range columns {
			w.writef("<td>%s</td>", c.words(&rows[i]))
		}
		w.write("</tr>\n")
	}
	w.write("</tbody></table></div>\n")
}

// keyColumn is a column of the table of keys.
type keyColumn struct {
	head  string
	words func(*KeyRow) string
}

// keyColumns has one column for both pitches where they are the same, and the
// transposition where it changes.
func (w partWriter) keyColumns(rows []KeyRow) []keyColumn {
	sounding := keyColumn{"Sounding", func(k *KeyRow) string { return k.Sounding.words() }}
	written := keyColumn{"Written", func(k *KeyRow) string { return k.Written.words() }}
	columns := []keyColumn{sounding, written}
	if !w.part.Opening.Both && !slices.ContainsFunc(rows, func(r KeyRow) bool { return !r.Sounding.like(r.Written) }) {
		columns = []keyColumn{{"Sounding and written", written.words}}
	}
	if slices.ContainsFunc(rows, func(r KeyRow) bool { return r.Sounds != rows[0].Sounds }) {
		columns = append(columns, keyColumn{"Transposition", (*KeyRow).transpositionWords})
	}
	return columns
}

func (k *KeyRow) transpositionWords() string {
	if k.Respelled {
		return "the same, spelled enharmonically"
	}
	return strings.TrimSuffix(k.Sounds, " than written")
}

// words names a signature, and its key where the score says the mode.
func (s *Signature) words() string {
	switch {
	case s == nil:
		return "no signature"
	case s.Special:
		return "chosen signs"
	}
	words := pitch.SignatureWords(s.Fifths)
	if mode := pitch.Mode(s.Mode); mode == pitch.Major || mode == pitch.Minor {
		words += ", " + printed(pitch.Key{Fifths: s.Fifths, Mode: mode}.String())
	}
	return words
}
