package scenarios

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"drystalk/sim"
)

// Write returns the scenario as a file with every key stated, defaults included.
// What it returns reads back as the same scenario.
func (s *Scenario) Write() []byte {
	var b strings.Builder
	line := func(indent int, format string, args ...any) {
		b.WriteString(strings.Repeat("  ", indent))
		fmt.Fprintf(&b, format, args...)
		b.WriteByte('\n')
	}
	d := &draft{Scenario: s}
	group := func(name string, fields []field) {
		line(0, "%s:", name)
		for i := range fields {
			line(1, "%s: %s", fields[i].key, fields[i].value(d))
		}
	}
	line(0, "region: %s", strconv.Quote(s.Region.Name))
	if s.Currency != "" {
		line(0, "currency: %s", strconv.Quote(s.Currency))
	}
	c := s.Region.Calendar
	line(0, "season: {start: %d %s, days: %d}", c.StartDay, monthNames[c.StartMonth-1], c.Days)
	s.writeWeather(line)
	group("contract", contractFields)
	line(1, "stalks_per_month: %s", s.months(s.Region.Contract.StalksByMonth))
	line(1, "target_stock_stalks: %s", s.months(s.Region.Contract.TargetStock))
	group("hub", hubFields)
	group("dryer", dryerFields)
	group("yard", yardFields)
	group("luck", luckFields)
	group("people", append(append([]field(nil), peopleFields...), plantingFields...))
	if list := s.writeAway(); list != "" {
		line(1, "away: %s", list)
	}
	group("stand", standFields)
	group("trouble", troubleFields)
	group("road", roadFields)
	group("store", storeFields)
	if list := s.writeMoves(); list != "" {
		line(0, "moves: %s", list)
	}
	if s.HasMoney {
		group("money", moneyFields)
	}
	line(0, "knowledge:")
	line(1, "fixed: %v", s.Knowledge.Fixed)
	for _, k := range s.Knowledge.Ranges {
		line(1, "%s: {low: %s, mode: %s, high: %s}", k.Key, plain(k.Low), plain(k.Mode), plain(k.High))
	}
	line(0, "sites:")
	for i := range s.Region.Sites {
		d := &draft{Scenario: s, site: &s.Region.Sites[i], maxDryers: &s.MaxDryers[i]}
		line(1, "%s:", strconv.Quote(d.site.Name))
		for k := range siteFields {
			line(2, "%s: %s", siteFields[k].key, siteFields[k].value(d))
		}
		if d.site.HaulTo != "" {
			line(2, "haul_to: %s", strconv.Quote(d.site.HaulTo))
		}
		if list := s.writeClosed(d.site); list != "" {
			line(2, "closed: %s", list)
		}
		if d.at = &s.at[i]; d.at.given {
			for k := range coordinateFields {
				line(2, "%s: %s", coordinateFields[k].key, coordinateFields[k].value(d))
			}
		}
	}
	return []byte(b.String())
}

func (s *Scenario) writeWeather(line func(int, string, ...any)) {
	line(0, "weather:")
	if s.climate != nil {
		line(1, "climate_file: %s", strconv.Quote(s.climateName))
		d := &draft{Scenario: s}
		for i := range climateFields {
			line(1, "%s: %s", climateFields[i].key, climateFields[i].value(d))
		}
		return
	}
	if s.station != "" {
		line(1, "wmo_station: %s", s.station)
	} else {
		d := &draft{Scenario: s}
		for i := range placeFields {
			line(1, "%s: %s", placeFields[i].key, placeFields[i].value(d))
		}
		line(1, "normals:")
		for _, f := range monthlyFields {
			if v := *f.at(&s.raw); v != nil {
				var cells []string
				for _, x := range v {
					cells = append(cells, plain(x))
				}
				line(2, "%s: [%s]", f.key, strings.Join(cells, ", "))
			}
		}
	}
	if on := s.Normals.Onset; on.OnsetDOY > 0 {
		line(1, "monsoon:")
		for _, x := range []struct {
			key string
			doy float64
		}{{"onset", on.OnsetDOY}, {"withdrawal", on.WithdrawalDOY}} {
			month, day := sim.Calendar{StartMonth: time.January, StartDay: 1}.Date(int(x.doy) - 1)
			line(2, "%s: %d %s", x.key, day, monthNames[month-1])
		}
		d := &draft{Scenario: s, weatherRaw: &rawWeather{on.OnsetSD, on.WithdrawalSD}}
		for i := range monsoonFields {
			line(2, "%s: %s", monsoonFields[i].key, monsoonFields[i].value(d))
		}
	}
}

// months writes the months of the season that have stalks.
func (s *Scenario) months(stalks map[time.Month]int) string {
	var parts []string
	for _, span := range s.Region.Calendar.Months() {
		entry := fmt.Sprintf("%s: %d", monthNames[span.Month-1], stalks[span.Month])
		if stalks[span.Month] > 0 && !strings.Contains(strings.Join(parts, ", "), entry) {
			parts = append(parts, entry)
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// value returns the present value of a field as it stands in a file.
func (f *field) value(d *draft) string {
	switch {
	case f.flag != nil:
		return strconv.FormatBool(*f.flag(d))
	case f.choice != nil:
		return f.choices[*f.choice(d)]
	case f.whole != nil:
		return strconv.Itoa(*f.whole(d))
	}
	return plain(*f.number(d))
}
