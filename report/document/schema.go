package document

import (
	"encoding"
	"encoding/json"
	"reflect"
	"strings"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// SchemaVersion is the version of the form of the JSON answers. It goes up by one when a key is
// renamed or goes, or its meaning or unit changes; new keys alone do not change it.
const SchemaVersion = 2

// object is a piece of a JSON Schema.
type object = map[string]any

// conventions are what holds for all answers.
const conventions = "Keys end with the unit of their number: _stalks, _h, _person_h, _dryer_h, _kg, _mm, _c, _days, _months, _years; counts of dryers, seasons and charges are called so. " +
	"Shares (share, _share) are fractions from 0 to 1, moistures kg of water per kg on the basis named. Amounts of money (cost, net, gain_a_year, cash and the like) are in units of `currency`, prices and costs of a good stalk in units of `currency` a stalk. " +
	"Odds are seasons in which something held of the seasons run, with the share and its 95 % Clopper-Pearson interval; means have a 95 % interval, null where it has no end; bands have the 5 %, 50 % and 95 % quantiles of seasons. Lists are never null."

// Schema returns the JSON Schema (draft 2020-12) of all JSON answers, made from the types that
// are written, for programs that read them. The field question tells which answer it is.
func Schema() ([]byte, error) {
	w := schemaWriter{object{}}
	var all []any
	for _, q := range bodies {
		s := w.structSchema(reflect.TypeOf(q.body))
		s["title"] = q.question
		s["properties"].(object)["question"] = object{"const": q.question}
		s["properties"].(object)["schema_version"] = object{"const": SchemaVersion}
		all = append(all, s)
	}
	return JSON(object{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "drystalk answers", "description": conventions, "oneOf": all, "$defs": w.defs,
	})
}

var (
	marshalsText = reflect.TypeFor[encoding.TextMarshaler]()
	marshalsJSON = reflect.TypeFor[json.Marshaler]()
)

// schemaWriter writes schemas of types; structs that have a name are written once.
type schemaWriter struct{ defs object }

// of returns the schema of a type as encoding/json writes it: a struct with a name by reference.
func (w schemaWriter) of(t reflect.Type) object {
	if t.Kind() == reflect.Pointer { // what it points to, which may write its own JSON
		return w.of(t.Elem())
	}
	plain := t.Implements(marshalsText) || t == reflect.TypeFor[sim.Amount]()
	if (t.Kind() != reflect.Struct && !t.Implements(marshalsJSON)) || t.Name() == "" || plain {
		return w.whole(t)
	}
	name := t.String() // package and type
	if w.defs[name] == nil {
		w.defs[name] = object{} // while it is being written
		w.defs[name] = w.whole(t)
	}
	return object{"$ref": "#/$defs/" + name}
}

// whole returns the schema of a type.
func (w schemaWriter) whole(t reflect.Type) object {
	switch {
	case t == reflect.TypeFor[trials.Mean](): // its ends may be open
		s := w.structSchema(t)
		for _, end := range []string{"mean", "low", "high"} {
			s["properties"].(object)[end] = object{"type": []string{"number", "null"}}
		}
		return s
	case t == reflect.TypeFor[sim.HubMonth]():
		s := w.structSchema(t)
		return withProperty(s, "month", object{"type": "string"})
	case t == reflect.TypeFor[decide.Flow](), t == reflect.TypeFor[sim.SiteMonth](), t == reflect.TypeFor[sim.DryerHours]():
		return w.writtenSchema(t)
	case t == reflect.TypeFor[sim.Amount]():
		return object{"type": "number"}
	case t.Implements(marshalsText):
		return object{"type": "string"}
	case t.Implements(marshalsJSON):
		panic(t.String() + " writes JSON of its own and has no schema") // the types are part of the program
	}
	return w.kindSchema(t)
}

// kindSchema returns the schema of a type that is written by its kind.
func (w schemaWriter) kindSchema(t reflect.Type) object {
	switch t.Kind() {
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Float64:
		return object{"type": "number"}
	case reflect.String:
		return object{"type": "string"}
	case reflect.Slice, reflect.Array:
		return object{"type": "array", "items": w.of(t.Elem())}
	case reflect.Struct:
		return w.structSchema(t)
	}
	return object{"type": "integer"}
}

// structSchema returns the schema of a struct: its fields by their tags, those of embedded
// structs among them.
func (w schemaWriter) structSchema(t reflect.Type) object {
	s := object{"type": "object", "additionalProperties": false, "properties": object{}, "required": []string{}}
	for _, f := range reflect.VisibleFields(t) {
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous || key == "-" {
			continue
		}
		if key == "" {
			panic(t.String() + "." + f.Name + " has no key in JSON") // the types are part of the program
		}
		field := w.of(f.Type)
		if options == "omitempty" {
			s["properties"].(object)[key] = field
			continue
		}
		s = withProperty(s, key, field)
	}
	return s
}

// withProperty adds a key that is always there.
func withProperty(s object, key string, field object) object {
	s["properties"].(object)[key] = field
	s["required"] = append(s["required"].([]string), key)
	return s
}

// writtenSchema returns the schema of a type that writes an object of its own, from what it
// writes: every key is always there, and all are of one kind.
func (w schemaWriter) writtenSchema(t reflect.Type) object {
	data, err := json.Marshal(reflect.New(t).Elem().Interface())
	var keys map[string]any
	if err == nil {
		err = json.Unmarshal(data, &keys)
	}
	if err != nil {
		panic(t.String() + ": " + err.Error()) // the types are part of the program
	}
	s := object{"type": "object", "additionalProperties": false, "properties": object{}, "required": []string{}}
	field := object{"type": "number"}
	if t == reflect.TypeFor[decide.Flow]() {
		field = w.of(reflect.TypeFor[trials.Mean]())
	}
	for key := range keys {
		s["properties"].(object)[key] = field
	}
	required := s["required"].([]string)
	for _, f := range sim.Figures() {
		if key := f.UnitKey(); keys[key] != nil {
			required = append(required, key)
		}
	}
	s["required"] = required
	return s
}
