package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// outlines is a TrueType font as far as an embedded font needs it (ISO 14496-22):
// glyphs by their index, each with its data and its advance.
type outlines struct {
	unitsPerEm             int
	ascent, descent        int
	box                    [4]int // left, bottom, right, top of all glyphs
	glyphs                 [][]byte
	advances, leftBearings []int
}

var errFont = errors.New("not a TrueType font as is embedded here")

// sfntTables cuts a font file into its tables.
func sfntTables(data []byte) (map[string][]byte, error) {
	if len(data) < 12 {
		return nil, errFont
	}
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(data[4:])) {
		if len(data) < 12+16*(i+1) {
			return nil, errFont
		}
		entry := data[12+16*i:]
		from, length := int(binary.BigEndian.Uint32(entry[8:])), int(binary.BigEndian.Uint32(entry[12:]))
		if from < 0 || length < 0 || from+length > len(data) {
			return nil, errFont
		}
		tables[string(entry[:4])] = data[from : from+length]
	}
	return tables, nil
}

// readOutlines reads a TrueType font.
func readOutlines(data []byte) (*outlines, error) {
	tables, err := sfntTables(data)
	if err != nil {
		return nil, err
	}
	head, hhea, maxp, loca, glyf, hmtx := tables["head"], tables["hhea"], tables["maxp"], tables["loca"], tables["glyf"], tables["hmtx"]
	if len(head) < 54 || len(hhea) < 36 || len(maxp) < 6 {
		return nil, errFont
	}
	o := &outlines{unitsPerEm: int(binary.BigEndian.Uint16(head[18:])), ascent: signed(hhea[4:]), descent: signed(hhea[6:]),
		box: [4]int{signed(head[36:]), signed(head[38:]), signed(head[40:]), signed(head[42:])}}
	count, metrics := int(binary.BigEndian.Uint16(maxp[4:])), int(binary.BigEndian.Uint16(hhea[34:]))
	long := binary.BigEndian.Uint16(head[50:]) != 0
	if metrics == 0 || len(hmtx) < 4*metrics+2*(count-metrics) || len(loca) < (count+1)*map[bool]int{false: 2, true: 4}[long] {
		return nil, errFont
	}
	offset := func(i int) int {
		if long {
			return int(binary.BigEndian.Uint32(loca[4*i:]))
		}
		return 2 * int(binary.BigEndian.Uint16(loca[2*i:]))
	}
	for i := range count {
		from, to := offset(i), offset(i+1)
		if from > to || to > len(glyf) {
			return nil, fmt.Errorf("%w: glyph %d", errFont, i)
		}
		last := min(i, metrics-1)
		bearing := 4*i + 2
		if i >= metrics {
			bearing = 4*metrics + 2*(i-metrics)
		}
		o.add(glyf[from:to], int(binary.BigEndian.Uint16(hmtx[4*last:])), signed(hmtx[bearing:]))
	}
	return o, nil
}

func signed(b []byte) int { return int(int16(binary.BigEndian.Uint16(b))) }

// Flags of a component of a composite glyph (ISO 14496-22, glyf).
const (
	wordArguments  = 0x0001
	oneScale       = 0x0008
	moreComponents = 0x0020
	twoScales      = 0x0040
	fourScales     = 0x0080
)

// components calls visit with the place of each component's glyph index in a
// composite glyph's data.
func components(glyph []byte, visit func(at int)) {
	if len(glyph) < 10 || signed(glyph) >= 0 {
		return
	}
	for at := 10; at+4 <= len(glyph); {
		flags := binary.BigEndian.Uint16(glyph[at:])
		visit(at + 2)
		at += 6
		if flags&wordArguments != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&fourScales != 0:
			at += 8
		}
		if flags&moreComponents == 0 {
			return
		}
	}
}

// add appends a glyph.
func (o *outlines) add(glyph []byte, advance, leftBearing int) {
	o.glyphs, o.advances, o.leftBearings = append(o.glyphs, glyph), append(o.advances, advance), append(o.leftBearings, leftBearing)
}

// cutDown keeps the glyphs of some codes, in order, each in the place of its code
// with nothing in the places between, and behind them what they are composed of.
func (t *glyphTable) cutDown(codes []uint16) *outlines {
	small := &outlines{unitsPerEm: t.unitsPerEm, ascent: t.ascent, descent: t.descent, box: t.box}
	keep := []int{0} // glyphs, by their new places; -1 for nothing
	for _, code := range codes {
		for len(keep) < int(code) {
			keep = append(keep, -1)
		}
		keep = append(keep, t.glyphs[code])
	}
	place := map[int]int{}
	for i := 0; i < len(keep); i++ {
		if keep[i] < 0 {
			small.add(nil, 0, 0)
			continue
		}
		glyph := slices.Clone(t.outlines.glyphs[keep[i]])
		components(glyph, func(at int) {
			part := int(binary.BigEndian.Uint16(glyph[at:]))
			if part >= len(t.outlines.glyphs) {
				part = 0
			}
			if place[part] == 0 {
				place[part] = len(keep)
				keep = append(keep, part)
			}
			binary.BigEndian.PutUint16(glyph[at:], uint16(place[part]))
		})
		small.add(glyph, t.advances[keep[i]], t.leftBearings[keep[i]])
	}
	return small
}

// fontFile writes the tables that an embedded font must have (9.9, table 126).
func (o *outlines) fontFile() []byte {
	var glyf, loca, hmtx []byte
	for i, g := range o.glyphs {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		glyf = append(glyf, g...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		hmtx = binary.BigEndian.AppendUint16(hmtx, uint16(o.advances[i]))
		hmtx = binary.BigEndian.AppendUint16(hmtx, uint16(int16(o.leftBearings[i])))
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	tables := []struct {
		tag  string
		data []byte
	}{{"glyf", glyf}, {"head", o.head()}, {"hhea", o.hhea()}, {"hmtx", hmtx}, {"loca", loca}, {"maxp", o.maxp()}}
	out := []byte{0, 1, 0, 0, 0, byte(len(tables)), 0, 64, 0, 2, 0, byte(16*len(tables) - 64)}
	at := 12 + 16*len(tables)
	headAt := 0
	for _, t := range tables {
		if t.tag == "head" {
			headAt = at
		}
		out = append(out, t.tag...)
		out = binary.BigEndian.AppendUint32(out, checksum(t.data))
		out = binary.BigEndian.AppendUint32(out, uint32(at))
		out = binary.BigEndian.AppendUint32(out, uint32(len(t.data)))
		at += (len(t.data) + 3) / 4 * 4
	}
	for _, t := range tables {
		out = append(out, t.data...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out)) // ISO 14496-22, head
	return out
}

func checksum(data []byte) uint32 {
	var sum uint32
	for i := 0; i < len(data); i += 4 {
		var word [4]byte
		copy(word[:], data[i:])
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}

func words(values ...int) []byte {
	var out []byte
	for _, v := range values {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	return out
}

func (o *outlines) head() []byte {
	// Version 1.0, revision 1.0, sum (set later), magic number, flags (y = 0 is the
	// baseline, x = 0 the left bearing), em, no dates, box, style, smallest size,
	// direction, long offsets, format.
	out := append(words(1, 0, 1, 0, 0, 0, 0x5F0F, 0x3CF5, 3, o.unitsPerEm), make([]byte, 16)...)
	return append(out, words(o.box[0], o.box[1], o.box[2], o.box[3], 0, 8, 2, 1, 0)...)
}

func (o *outlines) hhea() []byte {
	widest := 0
	for _, a := range o.advances {
		widest = max(widest, a)
	}
	return words(1, 0, o.ascent, o.descent, 0, widest, 0, 0, o.box[2], 1, 0, 0, 0, 0, 0, 0, 0, len(o.glyphs))
}

func (o *outlines) maxp() []byte {
	points, contours := 0, 0
	for _, g := range o.glyphs {
		if len(g) < 10 {
			continue
		}
		n := signed(g)
		if n <= 0 || len(g) < 10+2*n {
			continue
		}
		contours = max(contours, n)
		points = max(points, int(binary.BigEndian.Uint16(g[10+2*(n-1):]))+1)
	}
	// Composites of the text family have at most a few components one level deep.
	return words(1, 0, len(o.glyphs), points, contours, 4*points, 4*contours, 2, 0, 0, 0, 0, 0, 0, 8, 2)
}
