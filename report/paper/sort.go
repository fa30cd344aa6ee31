package paper

import (
	_ "embed" // the script
	"html/template"
)

//go:embed sort.js
var sortScript string

// Sorting is the script that makes tables sortable in a browser; it needs nothing from elsewhere.
func Sorting() template.JS { return template.JS(sortScript) }
