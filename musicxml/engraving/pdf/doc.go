// Package pdf writes pages of what is drawn (package display) as a PDF document:
// vectors, fonts embedded and cut down to what is used, tags, text alternatives,
// bookmarks, and every sign with its Unicode, so that a text tool reads the page
// back. It has one reason to exist: it knows the file format and no music, and
// what it is given it writes in that order, the same bytes every time.
//
//	w := pdf.New(file, pdf.Info{Title: "Lanterns on the Quay: Horn in F", Language: "en"})
//	for i := range pages {
//		w.Page(&pages[i])
//	}
//	err := w.Close()
//
// Sections of the standard that comments name are those of ISO 32000-1:2008
// (PDF 1.7); structure follows its section 14.8 and what ISO 14289-1 (PDF/UA-1)
// asks of it, without claiming to conform.
package pdf
