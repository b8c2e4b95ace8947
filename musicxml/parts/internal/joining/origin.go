package joining

import (
	"errors"
	"fmt"
	"iter"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Origin says where in a joined part the music of a staff of the score stands.
type Origin struct {
	Part      string // id in the score
	Label     string // of the instrument
	Player    int    // of a shared staff, 0 for the whole
	Staff     int    // in the joined part, from 1
	Staves    int    // that the part of the score has
	Stretches []Stretch
	// Some: of the staff the player has some passages only.
	Some bool
}

// Stretch is from one place of the part to another.
type Stretch struct{ From, To musicxml.Position }

// originName begins the name of a <miscellaneous-field> of the <score-part> that holds
// an origin: "music of P3", or "music of P3:2" for a player of a shared staff.
const originName = "music of "

// someName is the same where the player has some passages of the staff only.
const someName = "some music of "

// name is the part's id, with the player of a shared staff.
func (o *Origin) name() string {
	if o.Player == 0 {
		return o.Part
	}
	return o.Part + ":" + strconv.Itoa(o.Player)
}

func (o *Origin) prefix() string {
	if o.Some {
		return someName
	}
	return originName
}

// text is the origin as it stands in the field: "“Piccolo” on staff 1 of 1: 0+0 to 12+3/2,
// …", bars by their index from 0 and quarter notes into the bar.
func (o *Origin) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "“%s” on staff %d of %d:", o.Label, o.Staff, max(o.Staves, 1))
	for i, s := range o.Stretches {
		if i > 0 {
			b.WriteString(",")
		}
		fmt.Fprintf(&b, " %d+%s to %d+%s", s.From.Measure, s.From.Onset, s.To.Measure, s.To.Onset)
	}
	return b.String()
}

// sharersName is the name of the field that lists the ids of the parts that share a staff.
const sharersName = "staff shared by"

// WriteSharers writes into a <score-part> which parts share its staff, from the top.
func WriteSharers(entry *etree.Element, ids []string) {
	writeField(entry, sharersName, strings.Join(ids, " "))
}

// Sharers reads that; none where nobody shares it.
func Sharers(entry *etree.Element) []string {
	return strings.Fields(readField(entry, sharersName))
}

// dividedName is the name of the field that says which bars of a part stand on two staves.
const dividedName = "divisi on two staves"

// WriteDivided writes into a <score-part> which bars stand on two staves.
func WriteDivided(entry *etree.Element, text string) {
	writeField(entry, dividedName, text)
}

// Divided reads that; "" where there are none.
func Divided(entry *etree.Element) string {
	return readField(entry, dividedName)
}

// WriteOrigins writes into a <score-part> where the music comes from.
func WriteOrigins(entry *etree.Element, origins []Origin) {
	for i := range origins {
		writeField(entry, origins[i].prefix()+origins[i].name(), origins[i].text())
	}
}

// writeField adds a field to the <miscellaneous> of a <score-part>.
func writeField(entry *etree.Element, name, text string) {
	fields := musicxml.ChildOrNew(musicxml.ChildOrNew(entry, "identification"), "miscellaneous")
	field := fields.CreateElement("miscellaneous-field")
	field.CreateAttr("name", name)
	field.SetText(text)
}

// fieldsOf goes through the fields in the <miscellaneous> of a <score-part>.
func fieldsOf(entry *etree.Element) iter.Seq[*etree.Element] {
	return musicxml.Each(musicxml.Descend(entry, "identification", "miscellaneous"), "miscellaneous-field")
}

// readField is the text of the first field of that name, "" without one.
func readField(entry *etree.Element, name string) string {
	for field := range fieldsOf(entry) {
		if musicxml.Attr(field, "name") == name {
			return musicxml.Text(field)
		}
	}
	return ""
}

// Origins reads where the music of a <score-part> comes from; none where it says nothing
// of that.
func Origins(entry *etree.Element) ([]Origin, error) {
	var origins []Origin
	for field := range fieldsOf(entry) {
		name, ok := strings.CutPrefix(musicxml.Attr(field, "name"), originName)
		some := false
		if !ok {
			name, some = strings.CutPrefix(musicxml.Attr(field, "name"), someName)
		}
		if !ok && !some {
			continue
		}
		o, err := readOrigin(name, musicxml.Text(field))
		o.Some = some
		if err != nil {
			return nil, fmt.Errorf("the field %q does not say where the music comes from: %w", originName+name, err)
		}
		origins = append(origins, o)
	}
	return origins, nil
}

var errOrigin = errors.New("it should be like “Piccolo” on staff 1 of 1: 0+0 to 12+3/2")

func readOrigin(name, text string) (Origin, error) {
	o := Origin{Part: name}
	if at := strings.LastIndexByte(name, ':'); at >= 0 {
		if n, err := strconv.Atoi(name[at+1:]); err == nil && n > 0 {
			o.Part, o.Player = name[:at], n
		}
	}
	label, text, named := strings.Cut(text, "” on ")
	o.Label, _ = strings.CutPrefix(label, "“")
	head, rest, ok := strings.Cut(text, ":")
	if _, err := fmt.Sscanf(head, "staff %d of %d", &o.Staff, &o.Staves); !named || !ok || err != nil || o.Staff < 1 || o.Staves < 1 {
		return o, errOrigin
	}
	for _, piece := range strings.Split(rest, ",") {
		if strings.TrimSpace(piece) == "" {
			continue
		}
		from, to, ok := strings.Cut(piece, " to ")
		s := Stretch{}
		var err, err2 error
		s.From, err = readPosition(from)
		s.To, err2 = readPosition(to)
		if !ok || err != nil || err2 != nil || s.To.Compare(s.From) < 0 {
			return o, errOrigin
		}
		o.Stretches = append(o.Stretches, s)
	}
	return o, nil
}

func readPosition(text string) (musicxml.Position, error) {
	bar, onset, ok := strings.Cut(strings.TrimSpace(text), "+")
	n, err := strconv.Atoi(bar)
	if !ok || err != nil || n < 0 {
		return musicxml.Position{}, errOrigin
	}
	num, den, fraction := strings.Cut(onset, "/")
	a, err := strconv.ParseInt(num, 10, 32)
	b := int64(1)
	if err == nil && fraction {
		b, err = strconv.ParseInt(den, 10, 32)
	}
	if err != nil || a < 0 || b < 1 {
		return musicxml.Position{}, errOrigin
	}
	return musicxml.Position{Measure: n, Onset: musicxml.NewFraction(a, b)}, nil
}
