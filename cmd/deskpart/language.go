package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/words"
)

// languageFlag is in which language a command speaks.
type languageFlag string

// addFlag adds --language; of says what is said in it.
func (f *languageFlag) addFlag(cmd *cobra.Command, of string) {
	addLanguage(cmd.Flags(), f, of)
}

// texts are the texts of the language.
func (f languageFlag) texts() (*texts.Texts, error) {
	l, err := words.ParseLanguage(string(f))
	if err != nil {
		return nil, fmt.Errorf("--language: %w", err)
	}
	return texts.In(l)
}
