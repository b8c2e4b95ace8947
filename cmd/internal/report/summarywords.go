package report

import (
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
)

// summaryWords say the figures of a summary.
type summaryWords struct {
	scores, parts, written, unchanged, left, warnings, rejected func(n int) string
	meaning                                                     func(notice.Notice) string
}

// inEnglish are the words of a run that asks for no language: the tables need not be read
// for them.
var inEnglish = summaryWords{
	scores:    counted("score", ""),
	parts:     counted("part", ""),
	written:   counted("file", " written"),
	unchanged: counted("score", " already done"),
	left:      counted("score", " not come to"),
	warnings:  counted("warning", ""),
	rejected:  counted("rejected file", ""),
	meaning:   func(n notice.Notice) string { return n.Meaning },
}

func counted(noun, after string) func(int) string {
	return func(n int) string { return notice.Counted(n, noun, noun+"s") + after }
}

// wordsOf are those of a language.
func wordsOf(t *texts.Texts) summaryWords {
	return summaryWords{
		scores:    func(n int) string { return t.Say("run.scores", texts.Fill{"n": n}) },
		parts:     func(n int) string { return t.Say("run.parts", texts.Fill{"n": n}) },
		written:   func(n int) string { return t.Say("run.written", texts.Fill{"n": n}) },
		unchanged: func(n int) string { return t.Say("run.unchanged", texts.Fill{"n": n}) },
		left:      func(n int) string { return t.Say("run.left", texts.Fill{"n": n}) },
		warnings:  func(n int) string { return t.Say("run.warnings", texts.Fill{"n": n}) },
		rejected:  func(n int) string { return t.Say("run.rejected", texts.Fill{"n": n}) },
		meaning:   t.Meaning,
	}
}
