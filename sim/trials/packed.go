package trials

import (
	"math/bits"
	"slices"

	"drystalk/sim"
)

// packed are the figures of some rows of one site and number of dryers in few bytes, each exact and
// read by itself. A figure lies in a column with that of the other rows, in as many bits as the
// column's spread takes; what others tell already takes none: see leansOf.
type packed struct {
	columns []column
	words   []uint64
	leans   [][]int // by column: the columns whose sum is taken off; nil: none of any
}

// column is where a figure of all rows lies.
type column struct {
	from uint32 // first bit
	base int32  // the least of the rows
	wide uint8  // bits of each
}

// pack packs rows of so many figures each, one after the other.
func pack(rows []int32, figures int, leans [][]int) packed {
	p := packed{columns: make([]column, figures), leans: leans}
	rest := make([]int32, len(rows)/max(1, figures))
	if len(rest) == 0 {
		return p
	}
	at := uint32(0)
	for c := range p.columns {
		for i := range rest {
			row := rows[i*figures : (i+1)*figures]
			rest[i] = row[c]
			for _, k := range p.leansOn(c) {
				rest[i] -= row[k]
			}
		}
		least := slices.Min(rest)
		wide := uint8(bits.Len32(uint32(slices.Max(rest) - least)))
		p.columns[c] = column{at, least, wide}
		for _, x := range rest[:len(rest)*min(1, int(wide))] {
			p.write(at, uint64(uint32(x-least)))
			at += uint32(wide)
		}
	}
	p.words = slices.Clone(p.words) // without the room left for more
	return p
}

// write writes a whole number from a bit on.
func (p *packed) write(at uint32, x uint64) {
	word, bit := int(at/64), at%64
	for len(p.words) < word+2 {
		p.words = append(p.words, 0)
	}
	p.words[word] |= x << bit
	p.words[word+1] |= x >> (64 - bit) // nothing where bit is 0: a shift by 64 leaves none
}

// leansOn returns the columns whose sum is taken off a column.
func (p *packed) leansOn(c int) []int {
	if p.leans == nil {
		return nil
	}
	return p.leans[c]
}

// at returns figure c of row i.
func (p *packed) at(i, c int) int32 {
	col := &p.columns[c]
	x := col.base
	if col.wide > 0 {
		from := col.from + uint32(i)*uint32(col.wide)
		word, bit := from/64, from%64
		x += int32(uint32(p.words[word]>>bit|p.words[word+1]<<(64-bit)) & (1<<col.wide - 1))
	}
	for _, k := range p.leansOn(c) {
		x += p.at(i, k)
	}
	return x
}

// leansOf returns what columns of a row of so many figures lean on: the figure of a season on its
// months, where they are kept; accepted stalks on those that went to the hub; and stalks of full grade
// at the hub on those of the month before, which mostly keep, the first on those accepted.
func leansOf(months, figuresOfRow int) [][]int {
	leans := make([][]int, figuresOfRow)
	for k, id := range monthly {
		for m := range months {
			of := months + figures + k*months + m
			leans[months+int(id)] = append(leans[months+int(id)], of)
			if id == sim.ToHub {
				leans[m] = []int{of}
			}
		}
	}
	leanKept(leans, months)
	return leans
}

// leanKept lets stalks of full grade at the hub lean.
func leanKept(leans [][]int, months int) {
	at := keptAt(months)
	for m := range months {
		before := m
		for range months - m {
			leans[at] = []int{before}
			before, at = at, at+1
		}
	}
}
