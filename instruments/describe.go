package instruments

// Describe says in a language what the instrument does to the written note:
// "sounds a major second lower than written".
func (i *Instrument) Describe(language string) string {
	if !i.Transposes() {
		return "sounds as written"
	}
	return "sounds " + i.WrittenC().String() + " for a written C4"
}
