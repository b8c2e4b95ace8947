package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func newInstrumentsCmd(p *program) *cobra.Command {
	return &cobra.Command{Use: "instruments [NAME]", Short: "The catalogue of instruments",
		RunE: func(*cobra.Command, []string) error { return fmt.Errorf("not there yet") }}
}
