package pdf_test

import (
	"bytes"
	"fmt"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/pdf"
)

func Example() {
	heading := display.Item{Role: display.RoleWords, Shape: display.Text{Text: "Two Ferries", Face: fonts.Bold, Size: 3}}
	page := display.Page{Width: 210, Height: 297, Blocks: []display.Block{
		{Purpose: display.Title, Left: 20, Top: 25, Space: 1.75, Items: display.List{heading}}}}
	var file bytes.Buffer
	w := pdf.New(&file, pdf.Info{Title: "Two Ferries", Language: "en"})
	w.Page(&page)
	if err := w.Close(); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.8s\n", file.String())
	// Output: %PDF-1.7
}
