package svg

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// number writes a length in drawing units (tenths of a staff space) with at most
// one decimal.
func number(s display.Spaces) string {
	return strconv.FormatFloat(math.Round(float64(s)*100)/10+0, 'f', -1, 64)
}

// numbers writes lengths separated by blanks.
func numbers(lengths ...display.Spaces) string {
	parts := make([]string, len(lengths))
	for i, s := range lengths {
		parts[i] = number(s)
	}
	return strings.Join(parts, " ")
}

// decimal writes a factor with at most three decimals.
func decimal(f float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", f), "0"), ".")
}

func millimetres(mm display.Millimetres) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(mm)), ".0")
}

// escape makes text safe inside XML.
var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace

// clean drops the characters that XML cannot hold.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
}
