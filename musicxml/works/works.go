package works

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Work is a work of several movements with its players.
type Work struct {
	Jobs    []*parts.Job // the movements, in order
	Players []Player     // in score order
	// Title is the work's, Titles are the movements', "" where one has none; see Name.
	Title  string
	Titles []string
}

// Player is one desk of the work.
type Player struct {
	// Label heads all that the player has: "Clarinet 1" where the key changes from
	// movement to movement, else as in the movements.
	Label string
	// Files are the player's among the assignments of each movement's job, -1 where the
	// movement has none: the player is silent there.
	Files []int
	// Instruments are what the player has in each movement; in one where the player is
	// silent that of the movement before, else of the one after. nil: not known.
	Instruments []*instruments.Instrument
}

// Find finds the players of movements that were surveyed with Options.Work, and what
// each has in each of them.
func Find(catalogue *instruments.Catalogue, language pitch.Language, movements []*parts.Surveyed) (*Work, error) {
	f := &finder{catalogue: catalogue, language: language}
	for _, surveyed := range movements {
		m, err := f.movement(surveyed)
		if err != nil {
			return nil, err
		}
		f.movements = append(f.movements, m)
	}
	f.findSole()
	for i := range f.movements {
		if err := f.divide(i); err != nil {
			return nil, err
		}
	}
	f.seatAll()
	return f.work(), nil
}

// finder finds the players of a work.
type finder struct {
	catalogue *instruments.Catalogue
	language  pitch.Language
	movements []movement
	sole      map[string]bool // kinds of which no movement has more than one staff
	players   []player        // in score order
	ranks     map[string]int  // of the catalogue's instruments, by id
}

// movement is one movement of the work.
type movement struct {
	surveyed *parts.Surveyed
	job      *parts.Job
	files    []parts.Assignment
	whole    []seat            // staves that are shared stay so
	atoms    map[string][]seat // by part, one for each player of its staff
}

// player is a desk on its way to become a Player.
type player struct {
	chair string
	files []int
}

func (f *finder) movement(surveyed *parts.Surveyed) (movement, error) {
	m := movement{surveyed: surveyed, atoms: map[string][]seat{}}
	var err error
	if m.job, err = surveyed.Assign(); err != nil {
		return m, err
	}
	m.files = m.job.Assignments()
	m.whole = seatsOf(f.catalogue, m.job)
	var ids []string
	for _, a := range m.files {
		ids = append(ids, a.ID)
	}
	divided, err := surveyed.Divided(ids...).Assign()
	if err != nil {
		return m, err
	}
	for _, s := range seatsOf(f.catalogue, divided) {
		has := slices.ContainsFunc(m.atoms[s.part], func(o seat) bool { return o.player == s.player })
		if !has { // other files of the player are for other readers
			m.atoms[s.part] = append(m.atoms[s.part], s)
		}
	}
	return m, nil
}

// findSole finds the kinds of which every movement has at most one staff, by whatever
// number or none.
func (f *finder) findSole() {
	staves, numbers := map[string]int{}, map[string]map[string]bool{}
	for i := range f.movements {
		seen := map[string]string{}
		for _, s := range f.movements[i].whole {
			if numbers[s.kind] == nil {
				numbers[s.kind] = map[string]bool{}
			}
			if s.said {
				numbers[s.kind][fmt.Sprint(s.number)] = true
			}
			part, again := seen[s.kind]
			if s.player > 0 || again && part != s.part {
				staves[s.kind] = 2
			}
			if f.movements[i].mixed(s.part) {
				for _, atom := range f.movements[i].atoms[s.part] {
					staves[atom.kind] = 2
				}
			}
			seen[s.kind] = s.part
		}
	}
	f.sole = map[string]bool{}
	for kind := range numbers {
		f.sole[kind] = staves[kind] < 2 && len(numbers[kind]) < 2
	}
}

// mixed reports whether different instruments share a staff.
func (m *movement) mixed(part string) bool {
	atoms := m.atoms[part]
	return slices.ContainsFunc(atoms, func(s seat) bool { return s.kind != atoms[0].kind })
}

// divide divides the shared staves of a movement whose players are not together in
// another one.
func (f *finder) divide(i int) error {
	m := &f.movements[i]
	var ids []string
	for _, s := range m.whole {
		if s.player == 0 && !f.sole[s.kind] && len(m.atoms[s.part]) > 1 && !slices.Contains(ids, s.part) && f.parted(m.atoms[s.part]) {
			ids = append(ids, s.part)
		}
	}
	if len(ids) == 0 {
		return nil
	}
	var err error
	if m.job, err = m.surveyed.Divided(ids...).Assign(); err != nil {
		return err
	}
	m.files = m.job.Assignments()
	return nil
}

// parted reports whether some movement has players of a staff, and not all of them, or
// others with them, on one staff.
func (f *finder) parted(staff []seat) bool {
	names := chairOf(staff)
	for i := range f.movements {
		for _, other := range f.movements[i].atoms {
			if chairOf(other) != names && slices.ContainsFunc(other, func(o seat) bool {
				return slices.ContainsFunc(staff, func(s seat) bool { return chairOf([]seat{s}) == chairOf([]seat{o}) })
			}) {
				return true
			}
		}
	}
	return false
}

// chairOf names the players of a staff: "flute 1 + flute 2".
func chairOf(staff []seat) string {
	var names []string
	for _, s := range staff {
		if len(s.number) == 0 {
			names = append(names, s.kind)
		}
		for _, n := range s.number {
			names = append(names, fmt.Sprintf("%s %d", s.kind, n))
		}
	}
	slices.Sort(names)
	return strings.Join(names, " + ")
}

// seatAll gives every part file a player, movement by movement. A player who is new
// sits after the one before in the movement.
func (f *finder) seatAll() {
	for i := range f.movements {
		at := -1
		for file := range f.movements[i].files {
			chair := f.chair(i, file)
			place := f.find(chair, i)
			if place < 0 {
				place = f.placeAfter(at, i, file)
				f.players = slices.Insert(f.players, place, player{chair, slices.Repeat([]int{-1}, len(f.movements))})
			}
			f.players[place].files[i] = file
			at = place
		}
	}
}

// deskOf names the chair of a player to whom the plan gives several staves.
func deskOf(a *parts.Assignment) string { return "player | " + a.Label }

// placeAfter is where a new player sits: after the one before in the movement, and
// behind those of other movements that a score has above the instrument.
func (f *finder) placeAfter(at, movement, file int) int {
	place := at + 1
	rank, known := f.rank(&f.movements[movement].files[file])
	for known && place < len(f.players) {
		next := &f.players[place]
		other, said := f.rankOf(next)
		if !said || other > rank || f.comes(next, movement, file) {
			break
		}
		place++
	}
	return place
}

// comes reports whether a player has a file of the movement that is still to be seated.
func (f *finder) comes(p *player, movement, after int) bool {
	for file := after + 1; file < len(f.movements[movement].files); file++ {
		if f.chair(movement, file) == p.chair {
			return true
		}
	}
	return false
}

// rank is the place of an instrument in a score, as the catalogue has it.
func (f *finder) rank(a *parts.Assignment) (int, bool) {
	in := cmp.Or(a.Written, a.Instrument)
	if in == nil {
		return 0, false
	}
	if f.ranks == nil {
		f.ranks = map[string]int{}
		for i, known := range f.catalogue.All() {
			f.ranks[known.ID] = i
		}
	}
	rank, known := f.ranks[in.ID]
	return rank, known
}

func (f *finder) rankOf(p *player) (int, bool) {
	for i, file := range p.files {
		if file >= 0 {
			return f.rank(&f.movements[i].files[file])
		}
	}
	return 0, false
}

// find finds the player on a chair who has nothing yet in a movement. Two files of one
// movement for what looks like one chair are for two players.
func (f *finder) find(chair string, movement int) int {
	return slices.IndexFunc(f.players, func(p player) bool { return p.chair == chair && p.files[movement] < 0 })
}

// chair names the chair that a part file is for.
func (f *finder) chair(i, file int) string {
	m := &f.movements[i]
	a := &m.files[file]
	if len(a.With) > 0 {
		return deskOf(a)
	}
	kind := kindOf(f.catalogue, a)
	version := versionOf(a)
	if f.sole[kind] && a.Player == 0 {
		return kind + " | " + version
	}
	staff := m.atoms[a.ID]
	if a.Player > 0 {
		staff = slices.Clone(staff)
		staff = slices.DeleteFunc(staff, func(s seat) bool { return s.player != a.Player })
	}
	return chairOf(staff) + " | " + version
}

func (f *finder) work() *Work {
	w := new(Work)
	for i := range f.movements {
		w.Jobs = append(w.Jobs, f.movements[i].job)
	}
	for _, p := range f.players {
		w.Players = append(w.Players, f.player(p))
	}
	return w
}

func (f *finder) player(p player) Player {
	done := Player{Label: f.label(p), Files: p.files, Instruments: make([]*instruments.Instrument, len(p.files))}
	var last *instruments.Instrument
	for i, file := range p.files {
		if file >= 0 {
			last = f.movements[i].files[file].Instrument
		}
		done.Instruments[i] = last
	}
	for i := len(p.files) - 1; i >= 0; i-- {
		if done.Instruments[i] == nil {
			done.Instruments[i] = last
		}
		last = done.Instruments[i]
	}
	return done
}

// label heads all that a player has.
func (f *finder) label(p player) string {
	var has []*parts.Assignment
	for i, file := range p.files {
		if file >= 0 {
			has = append(has, &f.movements[i].files[file])
		}
	}
	first := has[0]
	oneLabel, oneKey := true, true
	for _, a := range has {
		oneLabel = oneLabel && a.Label == first.Label
		oneKey = oneKey && a.Instrument == first.Instrument
		if len(a.Numbers) > len(first.Numbers) {
			first = a
		}
	}
	if oneLabel || oneKey || first.Instrument == nil || first.Edition != "" || first.StandsFor != "" {
		return first.Label
	}
	return f.withoutKey(first)
}

// withoutKey is a label for a player whose instrument changes its key: "Clarinet 1".
func (f *finder) withoutKey(a *parts.Assignment) string {
	names := a.Instrument.Names(f.language)
	name := names.Singular
	if len(a.Numbers) > 1 {
		name = names.Plural
	}
	var numbers []string
	for _, n := range a.Numbers {
		numbers = append(numbers, fmt.Sprint(n))
	}
	return strings.TrimSpace(name + " " + strings.Join(numbers, ", "))
}
