// Package fonts holds what the writers of a page need to know of its letters and
// signs: the outlines and boxes of the music signs, the text family with its
// real widths, and the Unicode that each sign is read as. It has one reason to
// exist: every writer, and the engraver who leaves room, must measure with the
// same ruler. It knows no music: a sign is a name with an outline.
//
// All data are taken from openly licensed fonts (SIL Open Font License 1.1, see
// OFL.txt): signs.csv from Noto Music and Noto Serif Bold by command signgen, the
// files in data/ by cutfonts.py. The text family, Desk Serif, has the widths of
// the serif that nearly every computer has (metric-compatible families are called
// Times New Roman, Nimbus Roman or Liberation Serif), so that a page that names
// those families is set as it was measured.
package fonts

//go:generate go run ./signgen -fonts /usr/share/fonts/truetype/noto -out signs.csv
