package weather

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// wmoColumns is the number of columns of the table of WMO Climatological Standard Normals.
const wmoColumns = 20

// ReadWMOTable reads a table of WMO Climatological Standard Normals 1991-2020: one
// row for each station and variable, twelve months and the year. Variables the
// model does not use are passed over. The wind of the table has neither unit nor
// height and is not used.
func ReadWMOTable(r io.Reader) ([]RawNormals, error) {
	in := csv.NewReader(r)
	in.FieldsPerRecord = wmoColumns
	rows, err := in.ReadAll()
	if err != nil {
		return nil, tongue.Errorf("WMO normals: %w", err)
	}
	var stations []RawNormals
	for i, row := range rows {
		if i == 0 {
			continue
		}
		name := row[1] + " " + row[2]
		if len(stations) == 0 || stations[len(stations)-1].Station != name {
			station, err := wmoStation(name, row)
			if err != nil {
				return nil, tongue.Errorf("WMO normals, line %d: %w", i+1, err)
			}
			stations = append(stations, station)
		}
		if err := stations[len(stations)-1].set(row[6], row[7:19]); err != nil {
			return nil, tongue.Errorf("WMO normals, line %d: %w", i+1, err)
		}
	}
	return stations, nil
}

// coastBelowM: a station this low counts as coastal for FAO-56 eq. 50.
// Assumption: the table does not say how far the sea is.
const coastBelowM = 15

// wmoStation reads who and where a station is.
func wmoStation(name string, row []string) (RawNormals, error) {
	raw := RawNormals{Station: name, Country: row[0]}
	for _, x := range []struct {
		what, cell string
		into       *float64
	}{{"latitude", row[3], &raw.Place.LatitudeDeg}, {"longitude", row[4], &raw.LongitudeDeg}, {"elevation", row[5], &raw.Place.ElevationM}} {
		var err error
		if *x.into, err = strconv.ParseFloat(x.cell, 64); err != nil {
			return raw, tongue.Errorf("%s %q is not a number", x.what, x.cell)
		}
	}
	raw.Place.Coast = raw.Place.ElevationM < coastBelowM
	return raw, nil
}

// set stores one variable of the table.
func (raw *RawNormals) set(variable string, cells []string) error {
	v, err := raw.months(variable, cells)
	if err != nil {
		return err
	}
	scaled := func(by float64) *[12]float64 {
		for m := range v {
			v[m] *= by
		}
		return &v
	}
	switch name, _, _ := strings.Cut(variable, " "); name {
	case "rain_mm":
		raw.RainMM = &v
	case "days_ge_1mm":
		raw.Days1MM = &v
	case "days_ge_0.3mm":
		raw.Days03MM = &v
	case "days_ge_2.5mm":
		raw.Days25MM = &v
	case "tmax_C":
		raw.TmaxC = &v
	case "tmin_C":
		raw.TminC = &v
	case "vapour_pressure_hPa":
		raw.VapourKPa = scaled(0.1)
	case "dewpoint_C":
		raw.DewPointC = &v
	case "rh_pct":
		raw.Humidity = scaled(0.01)
	case "sunshine_h":
		raw.SunshineH = &v
	default:
		if q, ok := strings.CutPrefix(name, "rain_quintile_Q"); ok && len(q) == 1 && q[0] >= '0' && q[0] <= '5' {
			raw.RainQuintiles[q[0]-'0'] = &v
		}
	}
	return nil
}

// months reads the twelve months of a variable.
func (raw *RawNormals) months(variable string, cells []string) (v [12]float64, err error) {
	for m := range v {
		if v[m], err = strconv.ParseFloat(cells[m], 64); err != nil {
			return v, tongue.Errorf("%s of %s, month %d: %q is not a number", variable, raw.Station, m+1, cells[m])
		}
	}
	return v, nil
}
