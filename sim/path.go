package sim

import "drystalk/sim/stalk"

// What an hour does to a batch depends on where the batch lies, how thick and in which state, and
// on nothing else of its site. So batches of sites that live side by side, and of one site with
// several numbers of dryers, which were laid down alike live through the same. That is worked out
// once, as their path. A yard without paths gives the same, more slowly.
// (TestSideBySideIsAsAlone)

// pathHours is how many hours a path is remembered. Sites live a day of each after another, and
// every site looks at its yard at dusk at the latest: no site is behind another by more than 31.
const pathHours = 64

// laid is how a batch was laid down.
type laid struct {
	season      *Season
	site        int // whose people pull the sheets over the batch; -1 where they have none
	at          place
	loadKgPerM2 float64 // dry matter on a square metre; 0 in a heap, which has its own
	hour        int
	state       stalk.State
}

// path is what becomes of batches that were laid down alike. Its lists hold an hour at its number
// modulo pathHours.
type path struct {
	laid

	number int // of this path: its memory is used again
	lived  int // hours up to which it is worked out
	used   int // hours up to which a batch has gone along it
	state  stalk.State
	after  [pathHours]stalk.State
	gave   [pathHours]stalk.Exchange
	sums   [8]span // by the hour at which they end
}

// paths are those of all sites that live side by side.
type paths struct {
	all    []*path
	begun  [pathHours][]*path // by the hour in which they begin
	number int
}

// clear forgets all paths and keeps their memory.
func (ps *paths) clear() {
	for _, p := range ps.all {
		p.used = -pathHours - 1
	}
	for h := range ps.begun {
		ps.begun[h] = ps.begun[h][:0]
	}
}

// of returns the path of batches laid down so.
func (ps *paths) of(l *laid) *path {
	begun := &ps.begun[l.hour%pathHours]
	if len(*begun) > 0 && (*begun)[0].hour != l.hour {
		*begun = (*begun)[:0]
	}
	for _, p := range *begun {
		if p.laid == *l && p.lived <= l.hour+pathHours {
			return p
		}
	}
	p := ps.free(l.hour)
	ps.number++
	p.laid, p.number, p.lived, p.used, p.state = *l, ps.number, l.hour, l.hour, l.state
	p.sums = [8]span{}
	*begun = append(*begun, p)
	return p
}

// free returns a path that nobody goes along any more.
func (ps *paths) free(hour int) *path {
	for _, p := range ps.all {
		if p.used < hour-pathHours {
			return p
		}
	}
	p := &path{}
	ps.all = append(ps.all, p)
	return p
}

// along takes a batch along its path up to the hours that are due and says what it exchanged up to
// each.
func (y *yard) along(b *batch, gave []stalk.Exchange) {
	last := y.due[len(y.due)-1]
	p := b.path
	if p == nil || p.number != b.number || p.lived > y.advanced+pathHours {
		p = y.paths.of(y.laid(b))
		b.path, b.number = p, p.number
	}
	if p.lived < last {
		y.lengthen(p, last)
	}
	if p.used < last {
		p.used = last
	}
	from := y.advanced
	for k, hour := range y.due {
		gave[k] = *p.sum(from, hour)
		from = hour
	}
	b.state = p.after[(last-1)%pathHours]
}

// span is what batches exchanged from one hour on to another.
type span struct {
	from, to int
	sum      stalk.Exchange
}

// sum returns what batches on the path exchange from one hour on to another. Sites look at their yards
// at the same hours, so the sums found last are kept.
func (p *path) sum(from, to int) *stalk.Exchange {
	s := &p.sums[to%len(p.sums)]
	if s.from != from || s.to != to {
		*s = span{from: from, to: to}
		for h := from; h < to; h++ {
			e := &p.gave[h%pathHours]
			s.sum.Rain += e.Rain
			s.sum.Evaporated += e.Evaporated
		}
	}
	return &s.sum
}

// laid says how a batch lies now, as if it had just been laid down.
func (y *yard) laid(b *batch) *laid {
	l := laid{y.season, -1, b.at, y.dryLoad(b), y.advanced, b.state}
	if b.at == openRack && y.site.Sheets {
		l.site = y.index
	}
	if b.at == heap {
		l.loadKgPerM2 = 0
	}
	return &l
}

// lengthen works a path out up to an hour, at most pathHours on.
func (y *yard) lengthen(p *path, hour int) {
	for p.lived < hour {
		cover, to := y.coverFrom(p.at, p.lived, hour)
		table := y.season.covers.between(cover, p.lived, to)
		for h := range table {
			k := (p.lived + h) % pathHours
			if p.at == heap {
				p.gave[k] = p.state.HeapHour(&table[h], &y.p.Stalk)
			} else {
				p.gave[k] = p.state.RackHour(&table[h], p.loadKgPerM2, &y.p.Stalk)
			}
			p.after[k] = p.state
		}
		p.lived = to
	}
}
