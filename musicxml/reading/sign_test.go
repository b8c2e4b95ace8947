package reading_test

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// The meaning of the signs is that of accidental-value in the MusicXML 4.0
// schema: Tartini's quarter tones, arrows as quarter tones up and down.
var signMeans = map[string]string{
	"sharp": "F#4", "natural": "F4", "flat": "Fb4",
	"double-sharp": "F##4", "sharp-sharp": "F##4", "flat-flat": "Fbb4",
	"natural-sharp": "F#4", "natural-flat": "Fb4",
	"quarter-flat": "F(-1/2)4", "quarter-sharp": "F(1/2)4",
	"three-quarters-flat": "F(-3/2)4", "three-quarters-sharp": "F(3/2)4",
	"sharp-down": "F(1/2)4", "sharp-up": "F(3/2)4",
	"natural-down": "F(-1/2)4", "natural-up": "F(1/2)4",
	"flat-down": "F(-3/2)4", "flat-up": "F(-1/2)4",
	"double-sharp-down": "F(3/2)4", "double-sharp-up": "F(5/2)4",
	"flat-flat-down": "F(-5/2)4", "flat-flat-up": "F(-3/2)4",
	"triple-sharp": "F###4", "triple-flat": "Fbbb4",
}

// ofNoFixedSize are read as <pitch> says.
var ofNoFixedSize = strings.Fields("arrow-down arrow-up slash-quarter-sharp slash-sharp slash-flat " +
	"double-slash-flat sharp-1 sharp-2 sharp-3 sharp-5 flat-1 flat-2 flat-3 flat-4 sori koron other")

func TestSigns(t *testing.T) {
	t.Parallel()
	for sign, want := range signMeans {
		assert.Equal(t, want, readWithSign(t, sign), sign)
	}
	for _, sign := range ofNoFixedSize {
		assert.Equal(t, "F(1/5)4", readWithSign(t, sign), sign)
	}
}

func readWithSign(t *testing.T, sign string) string {
	t.Helper()
	p := page(t, tune(`[<note><pitch><step>F</step><alter>0.2</alter><octave>4</octave></pitch>`+
		`<duration>1</duration><accidental>`+sign+`</accidental></note>]`))
	return p.Notes[0].Read.String()
}

// TestSignsComplete fails for every accidental of the schema that no row names.
func TestSignsComplete(t *testing.T) {
	t.Parallel()
	for _, sign := range schemaValues(t, "accidental-value") {
		if _, ok := signMeans[sign]; !ok {
			assert.Contains(t, ofNoFixedSize, sign)
		}
	}
}

// schemaValues returns the enumeration of a simple type of musicxml.xsd.
func schemaValues(t *testing.T, name string) []string {
	t.Helper()
	file, err := os.Open(filepath.Join(musicxmltest.SharedDir(t), "musicxml-4.0", "musicxml.xsd"))
	require.NoError(t, err)
	defer file.Close()
	var values []string
	inside := false
	decoder := xml.NewDecoder(file)
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		e, ok := token.(xml.StartElement)
		switch {
		case !ok:
		case e.Name.Local == "simpleType":
			inside = len(e.Attr) > 0 && e.Attr[0].Value == name
		case e.Name.Local == "enumeration" && inside:
			values = append(values, e.Attr[0].Value)
		}
	}
	require.NotEmpty(t, values)
	return values
}
