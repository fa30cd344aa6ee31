package scenarios

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

func (r *reader) sites(s *Scenario, n *node) {
	if n == nil {
		return
	}
	if len(n.keys) == 0 {
		r.fault(n.line, "sites", tongue.Say("no site"), tongue.Say("at least one site by name"))
	}
	if len(n.keys) > 60 {
		r.fault(n.line, "sites", tongue.Plainf("%d sites", len(n.keys)), tongue.Say("at most 60 sites"))
		return
	}
	s.Region.Sites = make([]sim.Site, len(n.keys))
	s.MaxDryers = make([]int, len(n.keys))
	s.at = make([]coordinates, len(n.keys))
	s.weatherFrom = make([]int, len(n.keys))
	for i, name := range n.keys {
		key := join("sites", name)
		if name == "" || len(name) > 80 || strings.ContainsFunc(name, unprintable) {
			r.fault(n.values[i].line, "sites", strconv.Quote(name), tongue.Say("a site name of 1 to 80 letters"))
			continue
		}
		if n.values[i].kind != mapping {
			r.fault(n.values[i].line, key, describe(n.values[i]), tongue.Say("a group of keys"))
			continue
		}
		site := &s.Region.Sites[i]
		site.Name = name
		r.site(&draft{Scenario: s, site: site, maxDryers: &s.MaxDryers[i], at: &s.at[i]}, n.values[i], key)
		r.siteWeather(s, i, n.values[i].get("weather"), join(key, "weather"))
		if s.MaxDryers[i] < site.Dryers {
			if n.values[i].get("max_dryers") != nil {
				r.fault(n.values[i].get("max_dryers").line, join(key, "max_dryers"), strconv.Itoa(s.MaxDryers[i]), tongue.Plainf("at least the %d dryers of the plan", site.Dryers))
			}
			s.MaxDryers[i] = site.Dryers
		}
	}
}

// site reads one site; coordinates go together.
func (r *reader) site(d *draft, n *node, key string) {
	r.fields(d, n, key, siteFields, keysOf(coordinateFields, "haul_to", "closed", "weather")...)
	d.site.HaulTo = r.word(n, key, "haul_to", false)
	r.closures(d, n.get("closed"), join(key, "closed"))
	if n.get("latitude_deg") == nil && n.get("longitude_deg") == nil {
		return
	}
	d.at.given = true
	for i := range coordinateFields {
		f := &coordinateFields[i]
		if v := n.get(f.key); v != nil {
			r.set(d, f, v, join(key, f.key))
		} else {
			r.fault(n.line, join(key, f.key), tongue.Say("nothing"), tongue.Plainf("%s; latitude and longitude go together", f.allowed()))
		}
	}
}

func (r *reader) knowledge(s *Scenario, n *node) {
	if n == nil {
		return
	}
	keys := []string{"fixed", measuredKey}
	for _, k := range s.Knowledge.Ranges {
		keys = append(keys, string(k.Key))
	}
	r.known(n, "knowledge", keys)
	if v := n.get("fixed"); v != nil {
		if v.text != "true" && v.text != "false" {
			r.fault(v.line, "knowledge.fixed", describe(v), tongue.Say("true or false"))
		}
		s.Knowledge.Fixed = v.text == "true"
	}
	for i := range s.Knowledge.Ranges {
		k := &s.Knowledge.Ranges[i]
		if v := n.get(string(k.Key)); v != nil {
			r.oneRange(k, v)
		}
	}
	r.measured(s, n)
	base, _ := trials.Knowledge{Ranges: s.Knowledge.Ranges, Fixed: true}.Draw(s.Base, fixedRand())
	s.Base = base
}

// widest is how far from the documented range a stated one may reach.
const widest = 5

// farthest returns the bounds of what may be stated for a range; what is a fraction stays one.
func farthest(k *knowledge.Range) (low, high float64) {
	switch {
	case k.Low < 0:
		return k.Low * widest, k.High * widest
	case k.High <= 1:
		return k.Low / widest, 1
	}
	return k.Low / widest, k.High * widest
}

func (r *reader) oneRange(k *knowledge.Range, v *node) {
	key := "knowledge." + string(k.Key)
	if v.kind != mapping {
		r.fault(v.line, key, describe(v), tongue.Say("low, mode and high, such as {low: 0.8, mode: 1, high: 1.2}"))
		return
	}
	r.known(v, key, []string{"low", "mode", "high", "shape"})
	low, high := farthest(k)
	var x [3]float64
	for j, name := range []string{"low", "mode", "high"} {
		n := v.get(name)
		if n == nil {
			r.fault(v.line, join(key, name), tongue.Say("nothing"), tongue.Say("low, mode and high are all needed"))
			return
		}
		got, ok := r.number(n, join(key, name), low, high, false)
		if !ok {
			return
		}
		x[j] = got
	}
	if !(x[0] <= x[1] && x[1] <= x[2]) {
		r.fault(v.line, key, fmt.Sprintf("%g, %g, %g", x[0], x[1], x[2]), tongue.Say("low at most mode, mode at most high"))
		return
	}
	*k = k.Stated(x[0], x[1], x[2])
	r.shape(k, v.get("shape"), join(key, "shape"))
}

// shapes are what a file calls the shapes of a distribution.
var shapes = map[string]knowledge.Shape{"triangle": knowledge.Triangle, "even": knowledge.Even}

// shape reads how a parameter is distributed between low and high.
func (r *reader) shape(k *knowledge.Range, v *node, key string) {
	if v == nil {
		return
	}
	shape, ok := shapes[v.text]
	if !ok || v.kind != scalar {
		r.fault(v.line, key, describe(v), tongue.Say("triangle (most likely at the mode) or even (as likely anywhere between low and high)"))
		return
	}
	k.Shape = shape
}

// size lets fire and steel of a dryer grow with the fresh stalks that it holds, unless the
// scenario states them for its own, and its walls as the surface of a body of that size.
func size(s *Scenario) {
	d, times := &s.Region.Dryer, float64(s.Region.Dryer.HoldsFresh)/documentedFor
	d.FireSize, d.SteelSize, d.WallSize = 0, 0, math.Pow(times, 2.0/3)
	for _, k := range s.Knowledge.Ranges {
		switch {
		case !k.GrowsWithDryer():
		case k.Key == knowledge.EvaporatesKgPerH:
			d.FireSize = times
		case k.Key == knowledge.CabinetKg:
			d.SteelSize = times
		}
	}
}

// documentedFor is the number of fresh stalks in a dryer for which fire and steel are documented.
const documentedFor = 1000

// together checks what no key can tell alone.
func (r *reader) together(s *Scenario, root *node) {
	d := &s.Region.Dryer
	line := root.line
	if n := root.get("dryer"); n != nil {
		line = n.line
	}
	if !(d.ShiftEndH > d.ShiftStartH+2*d.HandlingH) && len(r.faults) == 0 {
		r.fault(line, "dryer.shift_end_h", plain(d.ShiftEndH), tongue.Say("later than shift_start_h by more than loading and unloading"))
	}
	if d.ShiftEndH > d.ShiftStartH+24 && len(r.faults) == 0 {
		r.fault(line, "dryer.shift_end_h", plain(d.ShiftEndH), tongue.Say("at most 24 hours after shift_start_h"))
	}
	for i := range s.Region.Sites {
		if site := &s.Region.Sites[i]; d.ShiftEndH+site.LongerShiftH > d.ShiftStartH+24 && len(r.faults) == 0 {
			r.fault(line, join(join("sites", site.Name), "longer_shift_h"), plain(site.LongerShiftH), tongue.Say("a shift of at most 24 hours in all"))
		}
	}
	if d.HoldsPredried < d.HoldsFresh && len(r.faults) == 0 {
		r.fault(line, "dryer.holds_stalks_predried", strconv.Itoa(d.HoldsPredried), tongue.Say("at least holds_stalks_fresh: stalks shrink"))
	}
	r.apart(s, root)
	r.checkElsewhere(s, root)
	if len(r.faults) == 0 {
		r.farStations(s, root.get("sites"))
	}
	if n := root.get("sites"); n != nil && len(r.faults) == 0 {
		if _, err := s.Region.HaulOrder(); err != nil {
			r.fault(n.line, "sites", tongue.Plainf("hauling that cannot be: %s", err.Error()), tongue.Say("haul_to another site, in no circle"))
		}
	}
	r.target(s, root.get("contract"))
	size(s)
	sum := 0
	for m := time.January; m <= time.December; m++ {
		sum += s.Region.Contract.StalksByMonth[m]
	}
	if n := root.get("contract"); sum == 0 && n != nil && len(r.faults) == 0 {
		r.fault(n.line, "contract.stalks_per_month", tongue.Say("no stalks in any month"), tongue.Say("at least one month with stalks"))
	}
}
