package main

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"sync"
	"time"

	"drystalk/report"
	"drystalk/tongue"
)

// checked is where results are written. It keeps the first error, so that an answer that did not
// reach the user never counts as given; what comes after it is dropped.
type checked struct {
	mu sync.Mutex
	to io.Writer
	at error
}

// Write writes on, until that fails.
func (c *checked) Write(p []byte) (int, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.at != nil {
		return len(p), nil
	}
	if _, err := c.to.Write(p); err != nil {
		c.at = err
	}
	return len(p), nil
}

// failed returns what kept the results from being written.
func (c *checked) failed() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.at == nil {
		return nil
	}
	return tongue.Errorf("the answer could not be written to the output: %w", c.at)
}

// errBroke is a fault of the program itself: neither of the command line nor of a file.
var errBroke error = tongue.Fault("the program broke; that is a fault of drystalk, not of your files")

// safely runs something and turns a panic into an error.
func safely(do func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("%w: %v\n%s", errBroke, v, debug.Stack())
		}
	}()
	return do()
}

// grace is how long an interrupted command has to say what it knows.
const grace = 10 * time.Second

// interruptible runs a command and gives up on one that does not end after an interruption.
func interruptible(ctx context.Context, do func() error) error {
	done := make(chan error, 1)
	go func() { done <- safely(do) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	select {
	case err := <-done:
		return err
	case <-time.After(grace):
		return ctx.Err()
	}
}

// within does what knows of no interruption, and returns at once when one comes; what it does is
// then dropped.
func within[A any](ctx context.Context, do func() (A, error)) (A, error) {
	type result struct {
		a   A
		err error
	}
	done := make(chan result, 1)
	go func() {
		var r result
		r.err = safely(func() (err error) {
			r.a, err = do()
			return err
		})
		done <- r
	}()
	select {
	case r := <-done:
		return r.a, r.err
	case <-ctx.Done():
		var none A
		return none, ctx.Err()
	}
}

// ready tells before a run whether its files can be written; with --json none are.
func ready(json bool, out string) error {
	if json || out == "" {
		return nil
	}
	if err := report.Ready(out); err != nil {
		return usagef("--out: %v; name another folder, or print the answer with --json", err)
	}
	return nil
}

// notWritten is returned after an answer has been printed whose files could not be written.
func notWritten(err error) error {
	return tongue.Errorf("the answer above is whole, but its files were not written: %w", err)
}
