package fonts_test

import (
	"fmt"

	"deskpart/musicxml/engraving/fonts"
)

func Example() {
	fmt.Printf("%.2f em\n", fonts.Italic.Width("dolce"))
	for _, run := range fonts.Regular.Runs("in B♭ 𝄐") {
		fmt.Printf("%q ", run.Text)
	}
	sharp, ok := fonts.SignOf("sharp")
	fmt.Println(ok, sharp.Text, sharp.Right-sharp.Left, "hundredths of a space wide")
	// Output:
	// 2.17 em
	// "in B" "♭" " " "𝄐" true ♯ 115 hundredths of a space wide
}
