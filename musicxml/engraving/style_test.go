package engraving

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/svg"
)

// sheet answers what the style sheet says of a class: the value of a property in
// the last rule that names it, or in that for all of that kind.
type sheet struct{ rules [][2]string }

func readSheet() sheet {
	var s sheet
	for _, m := range regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`).FindAllStringSubmatch(svg.Style, -1) {
		s.rules = append(s.rules, [2]string{m[1], m[2]})
	}
	return s
}

func (s sheet) value(selector, property string) string {
	value := ""
	for _, rule := range s.rules {
		for _, one := range strings.Split(rule[0], ",") {
			for _, part := range strings.Split(rule[1], ";") {
				if name, v, ok := strings.Cut(part, ":"); ok && one == selector && name == property {
					value = v
				}
			}
		}
	}
	return value
}

// The list says how thick strokes are and how big letters; the SVG has both from
// its style sheet. They say the same.
func TestStyleSheetAgreesWithTheList(t *testing.T) {
	t.Parallel()
	rules := readSheet()
	for role := display.RoleBar; role < display.RoleTimeFence+1; role++ {
		classes := strings.Fields(classOf(role))
		if len(classes) == 0 {
			continue
		}
		class := classes[len(classes)-1]
		if l, ok := lettersOf[role]; ok {
			size := rules.value(".music ."+class, "font-size")
			if size == "" {
				size = rules.value(".music text", "font-size")
			}
			assert.Equal(t, strconv.FormatFloat(l.size*10, 'f', -1, 64)+"px", size, "class %s", class)
			assert.Equal(t, l.face == fonts.Bold || l.face == fonts.BoldItalic, rules.value(".music ."+class, "font-weight") == "700", "class %s", class)
			assert.Equal(t, l.face == fonts.Italic || l.face == fonts.BoldItalic, rules.value(".music ."+class, "font-style") == "italic", "class %s", class)
			continue
		}
		for _, large := range []bool{false, true} {
			width := ""
			for _, c := range classes {
				for _, selector := range []string{".music ." + c, ".music.large ." + c} {
					if v := rules.value(selector, "stroke-width"); v != "" && (large || !strings.Contains(selector, "large")) {
						width = v
					}
				}
			}
			if width == "" {
				continue
			}
			n, err := strconv.ParseFloat(width, 64)
			require.NoError(t, err)
			k := ink{large: large}
			assert.InDelta(t, n/10, float64(k.thickness(role)), 1e-9, "class %s, large %v", class, large)
		}
	}
}

// classOf finds the class of a role by drawing a stroke and a text of it.
func classOf(role display.Role) string {
	k := &ink{}
	if _, letters := lettersOf[role]; letters {
		k.text(role, display.Start, "a", 0, 0)
	} else {
		k.line(role, 0, 0, 1, 0)
	}
	figure := svg.Figure(&display.System{Frame: k.items})
	m := regexp.MustCompile(`<(?:text|path) class="([^"]*)"`).FindStringSubmatch(figure)
	if m == nil {
		return ""
	}
	return m[1]
}
