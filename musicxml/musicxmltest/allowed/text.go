package allowed

import (
	"fmt"
	"strconv"
	"strings"
)

// builtIn are texts of the types that XML Schema itself has.
var builtIn = map[string][]string{
	"string": {"alpha", "dolce", "zwei", "x"}, "token": {"a", "b1", "cc"}, "NMTOKEN": {"one", "m1"}, "language": {"de", "it"},
	"decimal": {"0", "1", "2.5", "-3", "10"}, "integer": {"0", "1", "-2", "5"}, "nonNegativeInteger": {"0", "1", "3"}, "positiveInteger": {"1", "2", "3"},
	"date": {"2020-02-03"}, "anyURI": {"https://quay.example/x"},
}

// patterned are texts of the types that the schema gives as patterns.
var patterned = map[string][]string{
	"color": {"#80FF0000", "#00FF00"}, "comma-separated-text": {"serif,sans"}, "ending-number": {"1", "1, 2", "2"}, "time-only": {"1", "1, 2"}, "yyyy-mm-dd": {"2021-01-01"},
	"smufl-accidental-glyph-name": {"accidentalSharp"}, "smufl-coda-glyph-name": {"coda"}, "smufl-lyrics-glyph-name": {"lyricsElision"},
	"smufl-pictogram-glyph-name": {"pictGong"}, "smufl-segno-glyph-name": {"segno"}, "smufl-wavy-line-glyph-name": {"wiggleTrill"}, "smufl-glyph-name": {"accidentalFlat"},
}

// text is a text of a simple type; "" where none can be made up, as for an IDREF.
func (m *Maker) text(name string) string {
	name = strings.TrimPrefix(name, "xs:")
	if texts := builtIn[name]; texts != nil {
		return m.one(texts)
	}
	if texts := patterned[name]; texts != nil {
		return m.one(texts)
	}
	t := m.types[name]
	if t == nil {
		return ""
	}
	if union := t.SelectElement("union"); union != nil {
		if members := strings.Fields(union.SelectAttrValue("memberTypes", "")); len(members) > 0 {
			return m.text(m.one(members))
		}
		return m.text(union.FindElement("simpleType/restriction").SelectAttrValue("base", ""))
	}
	restriction := t.SelectElement("restriction")
	var values []string
	for _, e := range restriction.SelectElements("enumeration") {
		values = append(values, e.SelectAttrValue("value", ""))
	}
	if len(values) > 0 {
		return m.one(values)
	}
	bound := func(tag string) (float64, bool) {
		e := restriction.SelectElement(tag)
		if e == nil {
			return 0, false
		}
		n, err := strconv.ParseFloat(e.SelectAttrValue("value", ""), 64)
		return n, err == nil
	}
	base := restriction.SelectAttrValue("base", "")
	low, bounded := bound("minInclusive")
	if above, ok := bound("minExclusive"); ok {
		low, bounded = above+1, true
	}
	high, ends := bound("maxInclusive")
	switch {
	case !bounded && !ends:
		return m.text(base)
	case !ends:
		high = low + 10
	case !bounded:
		low = high - 10
	}
	return fmt.Sprint(int(low) + m.random.IntN(int(high-low)+1))
}

func (m *Maker) one(texts []string) string { return texts[m.random.IntN(len(texts))] }
