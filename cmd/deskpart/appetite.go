package main

import (
	"errors"
	"fmt"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// appetite is how much memory a command takes for what a score is made of, in bytes.
// What is taken is counted by elements and measures, for a text of few bytes may have
// many. The figures are the most that was measured, rounded up (29 November 2026): the
// peak of the process with one worker, less its own and the text, on scores of one and of
// many parts with 5,000 to 20,000 bars of notes, of rests and of words; for those that
// hold the whole score in memory (fit, reassign, collate, mark, proof) also on a shared
// movement 1, 2 and 4 times over (111,450 to 445,800 elements, GOGC=20), whose growth came
// to 64 bytes for each element (fit), 107 (reassign), 139 (collate, of which half are the
// parts') and 49 (proof); mark took 400 for each element of key and answer and 32 for
// each pair of bars (9,000 to 47,000 elements, 295 and 993 bars). There is half as much
// again as a margin.
type appetite struct {
	text    int64 // for each byte of text
	element int64 // for each element of the score, as long as it is worked on
	kept    int64 // for each element of a further score, to the end of the run: what was read of it
	// inPart and measure are for each element and measure of the largest part, in each
	// worker at one of the parts.
	inPart, measure int64
	// pair is for each measure of the largest part with each that it is held against.
	pair    int64
	against int64 // measures that it is held against. Default: as many as it has
}

// appetites are those of the commands; who is not here has that of extract.
var appetites = map[string]appetite{
	"extract":  {text: 1, element: 12, inPart: 550, measure: 300},
	"convert":  {text: 4, element: 12, inPart: 550, measure: 300},
	"verify":   {text: 1, element: 12, inPart: 750, measure: 300},
	"print":    {text: 1, element: 12, inPart: 1500, measure: 2000},
	"proof":    {text: 2, element: 75, inPart: 1500, measure: 2000},
	"fit":      {text: 1, element: 100, inPart: 750, measure: 300},
	"reassign": {text: 1, element: 160, inPart: 750, measure: 300},
	"collate":  {text: 1, element: 110, kept: 110, inPart: 750, measure: 300},
	"mark":     {text: 1, element: 900, kept: 900, pair: 48},
}

// appetite is the command's.
func (f *runFlags) appetite() appetite {
	a, ok := appetites[f.command]
	if !ok {
		a = appetites["extract"]
	}
	a.against = f.against
	return a
}

// cost is what a score takes, now that it has been counted.
func (a appetite) cost(score *musicxml.Score) run.Cost {
	text := int64(score.TextBytes())
	cost := run.Cost{Whole: a.text*text + min(text/2, musicxml.TapeBytes) + a.element*int64(score.Weight().Elements)}
	for _, part := range score.Parts {
		w := part.Weight()
		bars := int64(w.Measures)
		cost.Piece = max(cost.Piece, a.inPart*int64(w.Elements)+a.measure*bars+a.pair*bars*max(bars, a.against))
	}
	return cost
}

// keep says that what was read of a score stays in memory to the end of the run.
func (a appetite) keep(w *run.Worker, score *musicxml.Score) {
	w.Keep(a.kept * int64(score.Weight().Elements))
}

// guess is what a file may take, as long as only its size is known: what most scores of
// that size do.
func (a appetite) guess(in files.Input) run.Cost {
	text := in.Size
	if in.Size < packedLimit {
		text *= packedFactor
	}
	return run.Cost{Whole: a.text*text + min(text/2, musicxml.TapeBytes) + a.element*text/usualElement, Piece: a.inPart * text / usualElement / usualParts}
}

// A file of less than packedLimit bytes is taken for a packed one, which unpacks
// to some packedFactor times its size (the shared movements: 45 to 60 times). An element
// of the shared scores takes usualElement bytes of text, and the largest part is
// usually one in usualParts.
const packedLimit, packedFactor, usualElement, usualParts = 4 << 20, 60, 30, 8

// scoreCost guesses the memory that a file takes. The movements of a work take theirs at
// once: what a player has in one decides about the others.
func (f *runFlags) scoreCost(in files.Input) run.Cost {
	if in.Movements == nil {
		return f.appetite().guess(in)
	}
	var sum run.Cost
	for _, m := range in.Movements {
		sum = sum.And(f.scoreCost(m))
	}
	return sum
}

// readWithin reads a score out of a buffer, which from then on is the score's, within the
// memory that its worker can have: before it is unpacked, and again when it has been
// counted. An error that has the worker wait goes back to the pool as it is.
func (f *runFlags) readWithin(w *run.Worker, data []byte, o musicxml.ReadOptions) (*musicxml.Score, error) {
	if err := f.reserve(w, run.Cost{Whole: musicxml.ReadingBytes(data)}, nil); err != nil {
		o.Buffers.Give(data)
		return nil, err
	}
	score, err := musicxml.Read(data, o)
	if err != nil {
		return nil, err
	}
	if err := f.reserve(w, f.appetite().cost(score), score); err != nil {
		score.Release()
		return nil, err
	}
	w.Settle()
	return score, nil
}

// reserve words a refusal for want of memory.
func (f *runFlags) reserve(w *run.Worker, cost run.Cost, score *musicxml.Score) error {
	err := w.Reserve(cost)
	var much *run.TooMuch
	if !errors.As(err, &much) {
		return err
	}
	what := "the file"
	if score != nil {
		all := score.Weight()
		what = fmt.Sprintf("the score has %s in %s and", notice.Counted(int(all.Elements), "element", "elements"), notice.Counted(int(all.Measures), "bar", "bars"))
	}
	beside := ""
	if much.Kept > 0 {
		beside = fmt.Sprintf(" beside %s for what was read before", run.InWords(much.Kept))
	}
	return &musicxml.Error{Code: notice.WantsMemory, Err: fmt.Errorf("%s wants about %s of memory%s, and the run may have %s",
		what, run.InWords(run.MemoryFor(much.Wants)), beside, run.InWords(run.MemoryFor(much.Memory+much.Kept)))}
}

// tuneCollector has the collector keep to the memory that the process may have, until
// rest is called.
func (f *runFlags) tuneCollector(pool *run.Pool) (rest func()) {
	memory, _ := f.allMemory() // pool has checked it
	return run.TuneCollector(pool.Jobs(), memory, f.frugal)
}
