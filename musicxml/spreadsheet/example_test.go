package spreadsheet_test

import (
	"fmt"
	"os"
	"strings"

	"deskpart/musicxml/spreadsheet"
)

func Example() {
	out := spreadsheet.NewWriter(os.Stdout)
	out.Row("part", "label")
	out.Row("P1", "=1st Horn")
	if err := out.Flush(); err != nil {
		fmt.Println(err)
	}
	rows, err := spreadsheet.Read(strings.NewReader("sep=;\r\npart;label\r\nP1;'=1st Horn\r\n"), 1000, 0)
	if err != nil {
		fmt.Println(err)
	}
	for _, row := range rows {
		fmt.Println(row.Line, row.Cells)
	}
	// Output:
	// part,label
	// P1,'=1st Horn
	// 2 [part label]
	// 3 [P1 =1st Horn]
}
