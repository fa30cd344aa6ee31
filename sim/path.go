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
	now    stalk.Lived
	after  [pathHours]stalk.Lived
}

// paths are those of all sites that live side by side.
type paths struct {
	all    []*path
	begun  [pathHours][]*path // by the hour in which they begin
	hand   int                // where a free one was looked for last
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
	p.laid, p.number, p.lived, p.used, p.now = *l, ps.number, l.hour, l.hour, stalk.Lived{State: l.state}
	*begun = append(*begun, p)
	return p
}

// handSteps is how many paths are looked at for one that is free, before there is a new one, so that what a
// path costs does not grow with their number. (TestFewPathsLieIdle)
const handSteps = 8

// free returns a path that nobody goes along any more. It looks on where it looked last, like the hand of a
// clock.
func (ps *paths) free(hour int) *path {
	for range min(handSteps, len(ps.all)) {
		if ps.hand++; ps.hand >= len(ps.all) {
			ps.hand = 0
		}
		if p := ps.all[ps.hand]; p.used < hour-pathHours {
			return p
		}
	}
	p := &path{}
	ps.all = append(ps.all, p)
	return p
}

// along takes a batch along its path up to an hour.
func (y *yard) along(b *batch, hour int) {
	p := b.path
	if p == nil || p.number != b.number || p.lived > y.advanced+pathHours {
		y.exchanged(b, b.stalks)
		b.gave = stalk.Exchange{}
		p = y.paths.of(y.laid(b))
		b.path, b.number = p, p.number
	}
	if p.lived < hour {
		y.lengthen(p, hour)
	}
	if p.used < hour {
		p.used = hour
	}
	p.after[(hour-1)%pathHours].CopyTo(&b.state, &b.gave)
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
		at := p.lived % pathHours
		cover, to := y.coverFrom(p.at, p.lived, min(hour, p.lived+pathHours-at))
		table := y.season.covers.between(cover, p.lived, to)
		if p.at == heap {
			p.now.State.HeapHours(table, &y.p.Stalk, &p.now.Gave, p.after[at:])
		} else {
			p.now.State.RackHours(table, p.loadKgPerM2, &y.p.Stalk, &p.now.Gave, p.after[at:])
		}
		p.lived = to
	}
}
