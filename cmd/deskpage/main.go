// Command deskpage builds the page: the whole program in one HTML file that any current
// browser opens from disk, with nothing installed and nothing sent anywhere.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	out := flag.String("out", "deskpart.html", "the page, a `FILE.html`")
	flag.Parse()
	if err := build(*out); err != nil {
		fmt.Fprintln(os.Stderr, "deskpage: "+err.Error())
		os.Exit(1)
	}
}

// build writes the page.
func build(out string) error {
	program, err := compile()
	if err != nil {
		return err
	}
	page, err := assemble(program)
	if err != nil {
		return err
	}
	if err := os.WriteFile(out, page, 0o666); err != nil {
		return err
	}
	fmt.Printf("%s: %.2f MB, of which the program %.2f MB unpacked\n", out, float64(len(page))/1e6, float64(len(program.code))/1e6)
	return nil
}
