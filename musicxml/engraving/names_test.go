package engraving_test

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
)

// Boxed words at the head of every staff stand left of the staves, shortened from the
// second line on; where a staff has none, all stay over their staves.
func TestNamesOfStaves(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		heads       []string
		first, more string
	}{
		{[]string{"Soprano 1", "Soprano 2", "Alto"}, "Soprano 1|Soprano 2|Alto", "S. 1|S. 2|A."},
		{[]string{"bariton", "Bass"}, "bariton|Bass", ""},
		{[]string{"Triangle", ""}, "", ""},
		{[]string{"Ångström solo", "Tenor"}, "Ångström solo|Tenor", "Å.|T."},
	} {
		m := namedStaves(t, row.heads)
		m.Bars[1].NewLine = true
		d, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		require.Len(t, d.Systems, 2)
		for i, want := range []string{row.first, row.more} {
			var names []drawnItem
			for _, item := range drawn(t, m, engraving.Options{}, display.RoleStaffName) {
				if item.system == i {
					names = append(names, item)
				}
			}
			assert.Equal(t, want, texts(names), "%v, line %d", row.heads, i+1)
		}
		boxes := drawn(t, m, engraving.Options{}, display.RoleRehearsalBox)
		assert.Equal(t, row.first == "", len(boxes) > 0, "%v: boxed over the staff", row.heads)
	}
}

// namedStaves are two bars of rest on a staff for each head, with that boxed over it.
func namedStaves(t *testing.T, heads []string) *engraving.Music {
	t.Helper()
	text := fmt.Sprintf(`<part><measure number="1"><attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>%d</staves></attributes>`, len(heads))
	for i, head := range heads {
		if head != "" {
			text += fmt.Sprintf(`<direction placement="above"><direction-type><words enclosure="rectangle">%s</words></direction-type><staff>%d</staff></direction>`, head, i+1)
		}
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text+`</measure><measure number="2"/></part>`))
	m, err := notate.Part(doc.Root(), notate.Options{})
	require.NoError(t, err)
	return m
}
