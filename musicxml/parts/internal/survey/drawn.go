package survey

// NotDrawn reports whether an attribute does not place something on the score's
// page or says how wide a bar is there: what does holds on no part's (MusicXML 4.0,
// position, bezier, measure). Parts are read without those.
func NotDrawn(tag, key string) bool {
	switch key {
	case "width":
		return tag != "measure"
	case "default-x", "default-y", "relative-x", "relative-y",
		"bezier-x", "bezier-y", "bezier-x2", "bezier-y2", "bezier-offset", "bezier-offset2",
		"text-x", "text-y", "end-length":
		return false
	}
	return true
}
