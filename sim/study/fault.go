package study

import (
	"errors"
	"fmt"
	"strings"

	"drystalk/tongue"
)

// Fault is something wrong with a study: the key that holds it, dotted as in the file of a study,
// what was found there, and what is allowed.
type Fault struct{ Key, Found, Allowed string }

func (f Fault) Error() string {
	return tongue.Plainf("%s: found %s, allowed: %s", f.Key, f.Found, f.Allowed)
}

// faultAt puts an error of a design to the key that holds it. Errors of designs say what is allowed
// behind a comma.
func faultAt(key string, err error) error {
	if err == nil || errors.As(err, &Fault{}) {
		return err
	}
	found, allowed, ok := strings.Cut(strings.TrimPrefix(err.Error(), "found "), ", allowed: ")
	if !ok {
		return fmt.Errorf("%s: %w", key, err)
	}
	return Fault{key, found, allowed}
}
