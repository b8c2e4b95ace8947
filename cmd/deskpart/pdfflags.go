package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"deskpart/musicxml/engraving/paper"
)

// pdfFlags are for pages that are to be had on paper, too.
type pdfFlags struct {
	pdf   bool // a PDF beside each page. Default: false
	paper string
	size  paper.Size
}

// addFlags adds --pdf, where a command writes several pages, and --paper.
func (f *pdfFlags) addFlags(cmd *cobra.Command, several bool) {
	if several {
		cmd.Flags().BoolVar(&f.pdf, "pdf", false, "write each page as a PDF, too")
	}
	cmd.Flags().StringVar(&f.paper, "paper", "", "the paper of a PDF: a4, letter, b4, or WIDTHxHEIGHT in mm or in (default: A4, or Letter where that is usual)")
}

// settle reads --paper; asked is whether there is to be a PDF.
func (f *pdfFlags) settle(language string, asked bool) (err error) {
	switch {
	case f.paper == "":
		f.size = paper.UsualSize(language, paper.Size{})
		return nil
	case !asked:
		return errors.New("--paper is for a PDF; ask for one")
	}
	if f.size, err = paper.ParseSize(f.paper); err != nil {
		return fmt.Errorf("--paper %w", err)
	}
	return nil
}
