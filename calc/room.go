package calc

// room is memory in which one glance after the other is taken: of the many rigs
// that a search looks at it keeps what they come to, and the load path of one.
// What is kept of a path is made in a room of its own.
type room struct {
	list         []finding
	rigged       []place // of a strain
	places       []place // of a path, with the holding line's and the puller's
	open, rows   []place
	lines        []place
	seats, own   []seat
	ropes        []*piece
	missing      []lack
	left, cols   []int
	taken        []bool
	costs        []float64
	costOfPlaces [][]float64
}

// path begins a path with space for so many seats.
func (m *room) path(seats int) path {
	if cap(m.seats) < seats {
		m.seats = make([]seat, 0, seats)
	}
	return path{room: m, seats: m.seats[:0], ropes: m.ropes[:0], lines: m.lines[:0], missing: m.missing[:0]}
}

// table is a table of costs; the last one is gone.
func (m *room) table(rows, cols int) [][]float64 {
	if n := rows * cols; cap(m.costs) < n {
		m.costs = make([]float64, n)
	}
	all, out := m.costs[:rows*cols], m.costOfPlaces[:0]
	for r := range rows {
		out = append(out, all[r*cols:(r+1)*cols:(r+1)*cols])
	}
	m.costOfPlaces = out
	return out
}
