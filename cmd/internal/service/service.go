package service

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// File is a file in memory. Its name is a path with forward slashes.
type File struct {
	Name string
	Data []byte
}

// Reply is the answer to a call.
type Reply struct {
	Value any // for JSON
	Files []File
}

// Progress is told while a call is at work: how much of it is done, and what has just
// been made.
type Progress struct {
	Done  int    `json:"done"`
	Of    int    `json:"of"`
	Made  any    `json:"made,omitempty"`
	Files []File `json:"-"`
}

// Tell hears of progress. A call goes on when it returns, so that whoever calls can let
// others have their turn.
type Tell func(Progress)

// Service answers the calls of one page. It is not for several goroutines at once.
type Service struct {
	catalogue *instruments.Catalogue
	scores    map[string]*score
	opened    int
}

// New returns a service without scores.
func New() (*Service, error) {
	catalogue, err := instruments.Load()
	if err != nil {
		return nil, err
	}
	return &Service{catalogue: catalogue, scores: map[string]*score{}}, nil
}

// call is what a call asks for.
type call struct {
	context.Context
	request json.RawMessage
	files   []File
	tell    Tell
	page    *texts.Texts // in the language that the page speaks
}

// into reads the request.
func (c *call) into(value any) error {
	if len(c.request) == 0 {
		return nil
	}
	if err := json.Unmarshal(c.request, value); err != nil {
		return fmt.Errorf("the request is not understood: %w", err)
	}
	return nil
}

// step tells how far the call is, and ends it where it is to stop.
func (c *call) step(p Progress) error {
	c.tell(p)
	return context.Cause(c)
}

// asked is a call whose request is read.
func asked[R any](do func(*Service, *call, R) (Reply, error)) func(*Service, *call) (Reply, error) {
	return func(s *Service, c *call) (Reply, error) {
		var request R
		if err := c.into(&request); err != nil {
			return Reply{}, err
		}
		return do(s, c, request)
	}
}

// calls are all that a page can ask for.
var calls = map[string]func(*Service, *call) (Reply, error){
	"open":        (*Service).open,
	"close":       asked((*Service).close),
	"seat":        withSeats((*Service).seat),
	"make":        withSeats((*Service).makeParts),
	"draw":        withSeats((*Service).draw),
	"print":       withSeats((*Service).print),
	"hear":        withSeats((*Service).hear),
	"plan":        withSeats((*Service).plan),
	"read-plan":   (*Service).readPlan,
	"pack":        (*Service).pack,
	"band":        asked((*Service).readBand),
	"cast":        asked((*Service).cast),
	"lesson":      inLanguage((*Service).lesson),
	"topic":       inLanguage((*Service).topic),
	"sheet":       inLanguage((*Service).sheet),
	"mark":        inLanguage((*Service).mark),
	"fit":         asked((*Service).fitPart),
	"reassign":    asked((*Service).reassign),
	"proof":       withSeats((*Service).proof),
	"collate":     withSeats((*Service).collate),
	"work-seat":   withWork((*Service).seatWork),
	"work-make":   withWork((*Service).makeWork),
	"work-draw":   withWork((*Service).drawWork),
	"work-print":  withWork((*Service).printWork),
	"notices":     (*Service).notices,
	"readers":     inLanguage((*Service).listReaders),
	"instruments": inLanguage((*Service).listInstruments),
}

// errNoSuchCall is a page's that belongs to another version of the program.
var errNoSuchCall = errors.New("there is no such call")

// Call answers a call. What goes wrong is an error for a musician, which Refusal says; a
// fault of the program itself is one too, and leaves the service as it was.
func (s *Service) Call(ctx context.Context, name string, request []byte, files []File, tell Tell) (reply Reply, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = &musicxml.Error{Code: notice.Fault, Err: fmt.Errorf("%v", fault)}
		}
	}()
	do, known := calls[name]
	if !known {
		return Reply{}, fmt.Errorf("%q: %w", name, errNoSuchCall)
	}
	if tell == nil {
		tell = func(Progress) {}
	}
	page, err := speaking(request)
	if err != nil {
		return Reply{}, err
	}
	return do(s, &call{Context: ctx, request: request, files: files, tell: tell, page: page})
}
