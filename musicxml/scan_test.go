package musicxml

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/notice"
)

// wellFormed are texts that are XML, each with what the writer makes of its
// tree. The productions are those of XML 1.0, fifth edition.
var wellFormed = []struct{ name, why, text, want string }{
	{"empty element", "the shortest document", `<a/>`, `<a/>`},
	{"empty pair", "a pair of tags without content is the same (3.1)", `<a></a>`, `<a/>`},
	{"blanks in tags", "white space may follow a name (3.1)", "<a\n b = '1'\t c=\"2\" ><d /></a >", `<a b="1" c="2"><d/></a>`},
	{"blanks between elements", "layout is not music", "<a>\n  <b/>\r\n\t<c/> </a>", `<a><b/><c/></a>`},
	{"blank leaf", "white space that is all of an element's content may mean something", `<words> </words>`, `<words> </words>`},
	{"mixed content", "blanks beside text are text", `<a> <b/> x <b/> </a>`, `<a> <b/> x <b/> </a>`},
	{"mixed late", "the text that makes blanks count may come after them", "<a>\n<b/>\n<c/>x</a>", "<a>\n<b/>\n<c/>x</a>"},
	{"xml:space", "preserve keeps blanks (2.10)", `<a xml:space="preserve"> <b> <c/> </b></a>`, `<a xml:space="preserve"> <b> <c/> </b></a>`},
	{"xml:space default", "default takes it back (2.10)", `<a xml:space="preserve"> <b xml:space="default"> <c/> </b></a>`, `<a xml:space="preserve"> <b xml:space="default"><c/></b></a>`},
	{"CDATA", "a CDATA section stays one", `<a><![CDATA[<b> & ]] ]>]]></a>`, `<a><![CDATA[<b> & ]] ]>]]></a>`},
	{"CDATA of blanks", "is text, and so makes its neighbours text", `<a> <b/><![CDATA[ ]]></a>`, `<a> <b/><![CDATA[ ]]></a>`},
	{"empty CDATA", "is a token of its own, as in etree", `<a><![CDATA[]]></a>`, `<a><![CDATA[]]></a>`},
	{"comments", "stay, inside and outside the root", "<!-- a -->\n<a><!----><b/><!-->--></a>\n<!-- z -->", `<!-- a --><a><!----><b/><!-->--></a><!-- z -->`},
	{"comment with tags", "nothing in a comment is a tag", `<a><!-- </a> <b> --></a>`, `<a><!-- </a> <b> --></a>`},
	{"instructions", "stay, inside and outside the root", `<?x y?><a><?p?><?q  r ?></a><?z?>`, `<?x y?><a><?p?><?q r ?></a><?z?>`},
	{"declaration", "stays", `<?xml version="1.0" encoding="utf-8" standalone='yes'?><a/>`, `<?xml version="1.0" encoding="utf-8" standalone='yes'?><a/>`},
	{"five references", "those of XML itself (4.6)", `<a b="&lt;&amp;&quot;">&gt;&apos;</a>`, `<a b="&lt;&amp;&quot;">&gt;&apos;</a>`},
	{"character references", "decimal and hexadecimal (4.1)", `<a>&#9837;&#x266F;&#x1D12A;</a>`, `<a>♭♯𝄪</a>`},
	{"carriage return by reference", "is not a line end, and stays none", "<a b='&#13;'>x&#xD;y</a>", "<a b=\"&#xD;\">x&#xD;y</a>"},
	{"carriage return alone by reference", "found by fuzzing: white space, but no line end", "<a>&#xD;</a>", "<a>&#xD;</a>"},
	{"line ends", "all become a line feed (2.11)", "<a>x\r\ny\rz\n</a>", "<a>x\ny\nz\n</a>"},
	{"line ends in values", "become spaces (3.3.3)", "<a b='x\r\ny\tz'/>", `<a b="x y z"/>`},
	{"line feed in a value by reference", "stays (3.3.3)", "<a b='x&#10;y&#9;z'/>", `<a b="x&#xA;y&#x9;z"/>`},
	{"quotes in values", "either kind may hold the other", `<a b='"' c="'"/>`, `<a b="&quot;" c="&apos;"/>`},
	{"tag end in a value", "> may stand in a value (2.4)", `<a b="1>2" c='/>'/>`, `<a b="1&gt;2" c="/&gt;"/>`},
	{"prefixes", "elements of other namespaces stay", `<a xmlns:x="urn:x"><x:b x:c="1" c="2"/></a>`, `<a xmlns:x="urn:x"><x:b x:c="1" c="2"/></a>`},
	{"names beyond ASCII", "letters of other scripts are letters (2.3)", `<é ñ="1"><音/></é>`, `<é ñ="1"><音/></é>`},
	{"last characters", "U+FFFD and what lies beyond U+FFFF are characters (2.2)", "<a>\uFFFD\U0010FFFF\uFF0D</a>", "<a>\uFFFD\U0010FFFF\uFF0D</a>"},
	{"brackets", "]] and ]> may stand in text", `<a>]] ]> x</a>`, `<a>]] ]&gt; x</a>`},
	{"doctype", "stays; nothing that it names is fetched", `<!DOCTYPE a PUBLIC "-//X//Y" "http://localhost/none.dtd"><a/>`, `<!DOCTYPE a PUBLIC "-//X//Y" "http://localhost/none.dtd"><a/>`},
	{"internal subset", "declarations are passed over; a comment leaves a space, as in etree", `<!DOCTYPE a [<!ELEMENT a ANY><!-- > --><!ATTLIST a b CDATA "]>">%pe; ]><a/>`, `<!DOCTYPE a [<!ELEMENT a ANY> <!ATTLIST a b CDATA "]>">%pe; ]><a/>`},
	{"internal entity", "plain text is expanded", `<!DOCTYPE a [<!ENTITY n "Horn &amp; Tuba"><!ENTITY m '&n;, &#x266D;'>]><a b="&m;">&n;</a>`, `<!DOCTYPE a [<!ENTITY n "Horn &amp; Tuba"><!ENTITY m '&n;, &#x266D;'>]><a b="Horn &amp; Tuba, ♭">Horn &amp; Tuba</a>`},
	{"first declaration", "of two declarations the first holds (4.2)", `<!DOCTYPE a [<!ENTITY n "1"><!ENTITY n "2">]><a>&n;</a>`, `<!DOCTYPE a [<!ENTITY n "1"><!ENTITY n "2">]><a>1</a>`},
	{"reference twice removed", "XML 1.0, appendix D: an escaped & makes a reference when the entity is used", `<!DOCTYPE a [<!ENTITY n "&#38;#60;">]><a>&n;</a>`, `<!DOCTYPE a [<!ENTITY n "&#38;#60;">]><a>&lt;</a>`},
	{"letters of the standard's DTD", "it declares ISO 8879 Latin 1 and 2 (MusicXML 4.0, common.mod)", `<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 1.0 Partwise//EN" "partwise.dtd"><a b="&Rcaron;">&eacute;&gacute;</a>`, `<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 1.0 Partwise//EN" "partwise.dtd"><a b="Ř">éǵ</a>`},
	{"unused entity that holds elements", "harms nobody", `<!DOCTYPE a [<!ENTITY n "<b/>"><!ENTITY o SYSTEM "file:///etc/passwd"><!ENTITY p PUBLIC "x" "y" NDATA z>]><a/>`, `<!DOCTYPE a [<!ENTITY n "<b/>"><!ENTITY o SYSTEM "file:///etc/passwd"><!ENTITY p PUBLIC "x" "y" NDATA z>]><a/>`},
}

func TestScanWellFormed(t *testing.T) {
	t.Parallel()
	for _, row := range wellFormed {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			doc, err := ParseDocument([]byte(row.text), ReadOptions{})
			require.NoError(t, err, row.why)
			assert.Equal(t, row.want, string(Append(nil, doc, WriteOptions{})), row.why)
		})
	}
}

// TestScanEqualsEtree runs the same texts past the slow twin.
func TestScanEqualsEtree(t *testing.T) {
	t.Parallel()
	for _, row := range wellFormed {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			compareWithEtree(t, row.text)
		})
	}
}

// malformed are texts that must be refused, each with the code and the line
// that the refusal must have.
var malformed = []struct {
	name, why, text, code string
	line                  int
}{
	{"empty", "there is nothing", "", "empty-file", 0},
	{"blank", "there is no element", " \n ", "truncated", 2},
	{"plain text", "a text file", "Dear Sir,\n", "not-musicxml", 1},
	{"JSON", "another format", `{"a":1}`, "not-musicxml", 1},
	{"MIDI", "another format", "MThd\x00\x00\x00\x06\x00\x01", "not-musicxml", 1},
	{"unclosed", "an element is not ended", "<a>\n<b>\n</b>", "truncated", 3},
	{"cut in a tag", "a file cut off", "<a>\n<b c='", "truncated", 2},
	{"cut in a name", "a file cut off", "<a>\n<b", "truncated", 2},
	{"cut after <", "a file cut off", "<a>\n<", "truncated", 2},
	{"cut in text", "a file cut off", "<a>\nx &amp", "truncated", 2},
	{"cut in a comment", "a file cut off", "<a>\n<!-- x", "truncated", 2},
	{"cut in CDATA", "a file cut off", "<a>\n<![CDATA[ x", "truncated", 2},
	{"cut in an instruction", "a file cut off", "<a>\n<?x y", "truncated", 2},
	{"cut in the doctype", "a file cut off", "<!DOCTYPE a [\n<!ENTITY n 'x", "truncated", 2},
	{"cut in an end tag", "a file cut off", "<a>\n</a", "truncated", 2},
	{"declaration alone", "a file cut off", `<?xml version="1.0"?>`, "truncated", 1},
	{"mismatched", "tags must nest (3.1)", "<a>\n<b>\n</a></b>", "mismatched-tags", 3},
	{"wrong case", "names have a case", "<a>\n</A>", "mismatched-tags", 2},
	{"longer end tag", "a name that only begins alike", "<a>\n</ab>", "mismatched-tags", 2},
	{"end tag alone", "nothing is open", "</a>", "mismatched-tags", 1},
	{"nameless end tag alone", "found by fuzzing: nothing is open, and nothing has no name", "</>", "mismatched-tags", 1},
	{"two roots", "there is one root (2.1)", "<a/>\n<b/>", "two-roots", 2},
	{"text after the root", "only comments and instructions may follow (2.1)", "<a/>\nx", "text-outside-root", 2},
	{"CDATA after the root", "is text", "<a/><![CDATA[x]]>", "not-xml", 1},
	{"doctype after the root", "belongs before it", "<a/><!DOCTYPE a>", "not-xml", 1},
	{"two doctypes", "there is one", "<!DOCTYPE a><!DOCTYPE a><a/>", "not-xml", 1},
	{"text before the root", "is no XML", "x<a/>", "not-xml", 1},
	{"late declaration", "the declaration stands first (2.8)", "\n<?xml version='1.0'?><a/>", "not-xml", 2},
	{"declaration inside", "the declaration stands first (2.8)", "<a><?xml version='1.0'?></a>", "not-xml", 1},
	{"declaration without version", "the version must be there (2.8)", "<?xml encoding='UTF-8'?><a/>", "not-xml", 1},
	{"declaration in disorder", "version comes first (2.8)", "<?xml encoding='UTF-8' version='1.0'?><a/>", "not-xml", 1},
	{"wrong version", "other programs, etree too, refuse it", "<?xml version='2.0'?><a/>", "not-xml", 1},
	{"duplicate attribute", "a name once (3.1)", "<a>\n<b c='1' d='2' c='1'/></a>", "duplicate-attribute", 2},
	{"duplicate prefixed attribute", "a name once (3.1)", "<a x:c='1' x:c='1'/>", "duplicate-attribute", 1},
	{"attribute without value", "HTML, not XML", "<a b/>", "not-xml", 1},
	{"attribute without quotes", "HTML, not XML", "<a b=1/>", "not-xml", 1},
	{"attributes not parted", "white space must part them (3.1)", `<a b="1"c="2"/>`, "not-xml", 1},
	{"< in a value", "must be &lt; (3.1)", "<a>\n<b c='<'/></a>", "not-xml", 2},
	{"slash in a tag", "a stray slash", "<a / ></a>", "not-xml", 1},
	{"< in text", "must be &lt; (2.4)", "<a>\n1 < 2</a>", "not-xml", 2},
	{"bad name", "a name begins with a letter (2.3)", "<a><1/></a>", "not-xml", 1},
	{"bad name beyond ASCII", "× is no letter (2.3)", "<a><×/></a>", "not-xml", 1},
	{"two colons", "a name has one prefix", "<a:b:c/>", "not-xml", 1},
	{"& alone", "must be &amp; (2.4)", "<a>\nTom & Jerry</a>", "undefined-entity", 2},
	{"& alone before another", "a reference is a name", "<a>x & y &amp; z</a>", "undefined-entity", 1},
	{"undefined entity", "only declared ones", "<a>\n\n&nbsp;</a>", "undefined-entity", 3},
	{"undefined entity in a value", "only declared ones", "<a b='&eacute;'/>", "undefined-entity", 1},
	{"entity with a space", "no name", "<a>&a b;</a>", "undefined-entity", 1},
	{"external entity", "nothing is fetched", "<!DOCTYPE a [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><a>&x;</a>", "external-entity", 1},
	{"external entity by public id", "nothing is fetched", "<!DOCTYPE a [<!ENTITY x PUBLIC 'p' 'http://localhost/x'>]><a>&x;</a>", "external-entity", 1},
	{"entity that holds elements", "plain text alone is expanded", "<!DOCTYPE a [<!ENTITY x '<b/>'>]><a>&x;</a>", "undefined-entity", 1},
	{"entity that contains itself", "has no end (4.1)", "<!DOCTYPE a [<!ENTITY x '&y;'><!ENTITY y '&x;'>]><a>&x;</a>", "undefined-entity", 1},
	{"no character by reference", "NUL is none (2.2)", "<a>&#0;</a>", "not-xml", 1},
	{"half a pair by reference", "surrogates are none (2.2)", "<a>&#xD800;</a>", "not-xml", 1},
	{"reference out of range", "Unicode ends at 10FFFF", "<a>&#x110000;</a>", "not-xml", 1},
	{"reference far out of range", "no number is too long to be refused", "<a>&#99999999999999999999999;</a>", "not-xml", 1},
	{"reference with a sign", "digits alone (4.1)", "<a>&#-65;</a>", "not-xml", 1},
	{"control character", "none of XML's (2.2)", "<a>\n\x01</a>", "not-xml", 2},
	{"control character in a value", "none of XML's (2.2)", "<a b='\x1F'/>", "not-xml", 1},
	{"control character in a comment", "none of XML's (2.2)", "<a><!-- \x02 --></a>", "not-xml", 1},
	{"control character in CDATA", "none of XML's (2.2)", "<a><![CDATA[\x02]]></a>", "not-xml", 1},
	{"U+FFFE", "none of XML's (2.2)", "<a>\uFFFE</a>", "not-xml", 1},
	{"U+FFFF in a value", "none of XML's (2.2)", "<a b='\uFFFF'/>", "not-xml", 1},
	{"]]> in text", "must be ]]&gt; (2.4)", "<a>\nx ]]> y</a>", "not-xml", 2},
	{"-- in a comment", "may not be (2.5)", "<a>\n<!-- x -- y --></a>", "not-xml", 2},
	{"comment ending in ---", "may not be (2.5)", "<a><!-- x ---></a>", "not-xml", 1},
	{"doctype inside", "belongs before the root", "<a><!DOCTYPE b></a>", "not-xml", 1},
	{"malformed doctype", "an identifier without its quote", "<!DOCTYPE a PUBLIC x><a/>", "not-xml", 1},
	{"malformed entity", "a value without quotes", "<!DOCTYPE a [<!ENTITY x y>]><a/>", "not-xml", 1},
	{"instruction run on", "white space must follow the name (2.6)", "<a><?x?y?></a>", "not-xml", 1},
	{"instruction without name", "must have one (2.6)", "<a><? x?></a>", "not-xml", 1},
	{"web page", "no score and seldom XML", "<!doctype html>\n<html><br></html>", "wrong-root", 1},
}

func TestScanMalformed(t *testing.T) {
	t.Parallel()
	for _, row := range malformed {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := ParseDocument([]byte(row.text), ReadOptions{Name: "x.musicxml"})
			checkRefusal(t, err, row.code, row.line, row.why)
		})
	}
}

// checkRefusal checks that an error is one line in words, with file, code and line.
func checkRefusal(t *testing.T, err error, code string, line int, why string) {
	t.Helper()
	var refusal *Error
	require.ErrorAs(t, err, &refusal, why)
	t.Log(err)
	assert.EqualValues(t, code, refusal.Code, why)
	assert.Equal(t, line, refusal.Line, why)
	assert.Equal(t, "x.musicxml", refusal.File)
	assert.NotEmpty(t, refusal.Hint)
	assert.NotContains(t, err.Error(), "\n")
	assert.True(t, strings.HasPrefix(err.Error(), "x.musicxml: "))
}

// TestScanLimits checks that every limit is kept and that the value itself passes.
func TestScanLimits(t *testing.T) {
	t.Parallel()
	nested := func(n int) string { return strings.Repeat("<a>", n) + strings.Repeat("</a>", n) }
	attributes := func(n int) string {
		return "<a" + strings.Repeat(" ", n) + strings.Join(strings.Split("b='' c='' d='' e='' f=''", " ")[:n], " ") + "/>"
	}
	laughs := func(n int) string {
		text := `<!DOCTYPE a [<!ENTITY e0 "ha">`
		for i := range n {
			text += strings.NewReplacer("NEW", string(rune('b'+i)), "OLD", string(rune('a'+i))).Replace(`<!ENTITY NEW "&OLD;&OLD;&OLD;&OLD;&OLD;&OLD;&OLD;&OLD;&OLD;&OLD;">`)
		}
		return strings.Replace(text, "e0", "a", 1) + "]><a>&" + string(rune('a'+n)) + ";</a>"
	}
	uses := func(n int) string {
		return `<!DOCTYPE a [<!ENTITY n "0123456789">]><a>` + strings.Repeat("&n;", n) + "</a>"
	}
	for _, row := range []struct {
		name, why, text string
		limits          Limits
		code            string
	}{
		{"depth kept", "the limit itself is allowed", nested(7), Limits{Depth: 7}, ""},
		{"depth passed", "one more is not", nested(8), Limits{Depth: 7}, "too-deep"},
		{"depth by default", "a hundred thousand elements inside one another", nested(100_000), Limits{}, "too-deep"},
		{"attributes kept", "the limit itself is allowed", attributes(4), Limits{Attributes: 4}, ""},
		{"attributes passed", "one more is not", attributes(5), Limits{Attributes: 4}, "too-many-attributes"},
		{"billion laughs", "entities of entities", laughs(10), Limits{}, "too-large"},
		{"few laughs", "a modest expansion is allowed", laughs(3), Limits{}, ""},
		{"quadratic kept", "one entity used often, within the limit", uses(10), Limits{EntityBytes: 100}, ""},
		{"quadratic passed", "one entity used too often", uses(11), Limits{EntityBytes: 100}, "too-large"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := ParseDocument([]byte(row.text), ReadOptions{Limits: row.limits})
			assert.EqualValues(t, row.code, ErrorCode(err), "%s: %v", row.why, err)
		})
	}
}

// A file of another format is said to be that, by how it begins (the formats' own
// specifications; from memory).
func TestForeignFormat(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		begin string
		code  notice.Code
	}{
		{"", notice.EmptyFile}, {"%PDF-1.7\n", notice.IsPDF}, {"\x89PNG\r\n\x1a\n", notice.IsPicture}, {"\xff\xd8\xff\xe0\x00\x10JFIF", notice.IsPicture},
		{"RIFF\x24\x00\x00\x00WEBPVP8 ", notice.IsPicture}, {"RIFF\x24\x00\x00\x00WAVEfmt ", notice.IsRecording}, {"MThd\x00\x00\x00\x06", notice.IsMIDI},
		{"\xd0\xcf\x11\xe0\xa1\xb1", notice.IsDocument}, {"7z\xbc\xaf\x27\x1c", notice.IsArchive}, {"\xfe\xed\xfa\xce no letters of any code", notice.NotMusicXML},
	} {
		_, err := Read([]byte(row.begin), ReadOptions{Name: "x.musicxml"})
		assert.Equal(t, row.code, ErrorCode(err), "%q", row.begin)
	}
}
