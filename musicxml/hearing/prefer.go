package hearing

// Shifts say how each of some parts is read: the semitones added to what is written.
type Shifts []int

// Preference is what the ear says of two readings.
type Preference struct {
	// First and Second are the mean consonances, −1 to 1, of the intervals on which
	// the readings differ.
	First, Second float64
	// Evidence is for the first reading.
	Evidence
}

// Prefer hears some parts in two readings. Only parts that the readings move apart
// tell anything: if all are moved alike, there are no Passages.
func (e *Ear) Prefer(parts []*Part, first, second Shifts) Preference {
	choirs := choirsOf(parts, first, second)
	pairs := unlikePairs(choirs)
	heard := Preference{}
	if len(pairs) == 0 {
		return heard
	}
	var intervals, one, two int
	passages := make([]passage, 0, longest(parts)/perPassage+1)
	for from := 0; from < longest(parts); from += perPassage {
		var now passage
		tallies := hear(choirs, pairs, from)
		for i, p := range pairs {
			first, second := e.worth(&tallies[i], p.first), e.worth(&tallies[i], p.second)
			now.intervals += tallies[i].sum()
			now.better += first - second
			one, two = one+first, two+second
		}
		intervals += now.intervals
		passages = append(passages, now)
	}
	heard.First, heard.Second = mean(one, intervals), mean(two, intervals)
	heard.Evidence = weigh(passages)
	return heard
}

// mean is the mean consonance of some intervals, 0 of none.
func mean(worth, intervals int) float64 {
	if intervals == 0 {
		return 0
	}
	return float64(worth) / full / float64(intervals)
}

// choir is the parts that both readings move alike.
type choir struct {
	first, second int
	parts         []*Part
}

func choirsOf(parts []*Part, first, second Shifts) []choir {
	var all []choir
	place := map[[2]int]int{}
	for i, p := range parts {
		if len(p.moments) == 0 {
			continue
		}
		moved := [2]int{class(first[i]), class(second[i])}
		k, ok := place[moved]
		if !ok {
			k = len(all)
			place[moved] = k
			all = append(all, choir{first: moved[0], second: moved[1]})
		}
		all[k].parts = append(all[k].parts, p)
	}
	return all
}

// pair is two choirs that the readings move apart, by the semitones that each reading
// adds to the intervals from the one up to the other.
type pair struct{ lower, upper, first, second int }

func unlikePairs(choirs []choir) []pair {
	var all []pair
	for i := range choirs {
		for k := i + 1; k < len(choirs); k++ {
			p := pair{i, k, choirs[k].first - choirs[i].first, choirs[k].second - choirs[i].second}
			if class(p.first) != class(p.second) {
				all = append(all, p)
			}
		}
	}
	return all
}

// hear counts what sounds between the choirs of each pair in one passage.
func hear(choirs []choir, pairs []pair, from int) []tally {
	tallies := make([]tally, len(pairs))
	counts := make([]census, len(choirs))
	for moment := from; moment < from+perPassage; moment++ {
		for i := range choirs {
			counts[i] = census{}
			for _, p := range choirs[i].parts {
				counts[i].add(p.at(moment), 0)
			}
		}
		for i, p := range pairs {
			tallies[i].add(&counts[p.lower], &counts[p.upper])
		}
	}
	return tallies
}
