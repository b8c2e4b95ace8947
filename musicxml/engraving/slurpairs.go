package engraving

// slur is a slur or phrase mark from one event to another.
type slur struct {
	from, to       *Event
	fromBar, toBar int
	side           Side
}

// pairSlurs finds the two ends of each slur (or other line that ends names) of a
// staff. An end without its other end is left out.
func pairSlurs(staff *Staff, ends func(*Event) []SlurEnd) []slur {
	var list []slur
	open := map[int][]slur{}
	for bar := range staff.Measures {
		for _, e := range inTime(&staff.Measures[bar]) {
			for _, end := range ends(e) {
				if !end.Start {
					list = closeSlur(list, open, e, bar, end)
				}
			}
			for _, end := range ends(e) {
				if end.Start {
					open[end.ID] = append(open[end.ID], slur{from: e, fromBar: bar, side: end.Side})
				}
			}
		}
	}
	return list
}

func closeSlur(list []slur, open map[int][]slur, e *Event, bar int, end SlurEnd) []slur {
	waiting := open[end.ID]
	if len(waiting) == 0 {
		return list
	}
	s := waiting[len(waiting)-1]
	open[end.ID] = waiting[:len(waiting)-1]
	s.to, s.toBar = e, bar
	if s.side == SideAuto {
		s.side = end.Side
	}
	return append(list, s)
}
