// Command mutate plants small faults in the code of a package, one at a time, and tells
// which of them its tests notice. It changes no file: the compiler is given each faulty file
// in place of the true one.
//
//	go run ./testdata/tools/mutate -package ./sim/money -n 40 -seed 1
//
// A fault is killed where a test fails, breaks or runs into the time limit, and has survived
// where all pass. What does not compile is no fault and another is drawn. The same seed plants
// the same faults as long as the code is the same.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"syscall"
	"time"
)

func main() {
	var o options
	flag.StringVar(&o.pkg, "package", "./sim", "folder of the package in which faults are planted, from the root of the project")
	flag.StringVar(&o.tests, "tests", "", "packages whose tests should notice, apart by spaces; the package's own if not stated")
	flag.StringVar(&o.run, "run", "", "only the tests whose names match")
	flag.StringVar(&o.files, "files", "", "only files whose names match this expression")
	flag.IntVar(&o.n, "n", 40, "faults to plant")
	flag.Uint64Var(&o.seed, "seed", 1, "seed of the sample")
	flag.DurationVar(&o.limit, "limit", time.Minute, "time after which a run of the tests counts as noticed")
	flag.BoolVar(&o.list, "list", false, "list the sample and plant nothing")
	flag.Parse()
	if o.tests == "" {
		o.tests = o.pkg
	}
	if err := run(o); err != nil {
		fmt.Fprintln(os.Stderr, "error: "+err.Error())
		os.Exit(1)
	}
}

type options struct {
	pkg, tests, run, files string
	n                      int
	seed                   uint64
	limit                  time.Duration
	list                   bool
}

func run(o options) error {
	faults, err := faultsOf(o.pkg, o.files)
	if err != nil {
		return err
	}
	if len(faults) == 0 {
		return fmt.Errorf("%s: no place for a fault", o.pkg)
	}
	rng := rand.New(rand.NewPCG(o.seed, 0))
	rng.Shuffle(len(faults), func(i, j int) { faults[i], faults[j] = faults[j], faults[i] })
	if o.list {
		for _, f := range faults[:min(o.n, len(faults))] {
			fmt.Println(f)
		}
		return nil
	}
	if verdict, out := test(o, fault{}); verdict != survived {
		return fmt.Errorf("the tests do not pass as they are:\n%s", out)
	}
	count := map[verdict]int{}
	var alive []string
	for _, f := range faults {
		if count[killed]+count[survived] == o.n {
			break
		}
		v, _ := test(o, f)
		count[v]++
		if v != noFault {
			fmt.Printf("%-8s  %s\n", v, f)
		}
		if v == survived {
			alive = append(alive, f.String())
		}
	}
	planted := count[killed] + count[survived]
	fmt.Printf("\n%s, seed %d: %d of %d faults noticed (%d %%); %d drawn did not compile\n", o.pkg, o.seed, count[killed], planted, 100*count[killed]/max(1, planted), count[noFault])
	sort.Strings(alive)
	for _, line := range alive {
		fmt.Println("  survived  " + line)
	}
	return nil
}

// verdict is what became of a fault.
type verdict string

const (
	killed   verdict = "killed"
	survived verdict = "survived"
	noFault  verdict = "no fault"
)

// notBuilt tells a fault that does not compile from one that a test notices.
var notBuilt = regexp.MustCompile(`(?m)\[(build|setup) failed\]$`)

// test runs the tests with a fault in place; without one where it is empty.
func test(o options, f fault) (verdict, string) {
	dir, err := os.MkdirTemp("", "mutate-*")
	if err != nil {
		return noFault, err.Error()
	}
	defer func() { _ = os.RemoveAll(dir) }()
	args := []string{"test", "-vet=off", "-count=1", "-failfast", "-timeout", (o.limit + 30*time.Second).String()}
	if f.file != "" {
		overlay, err := f.write(dir)
		if err != nil {
			fmt.Fprintln(os.Stderr, "warning: "+err.Error())
			return noFault, err.Error()
		}
		args = append(args, "-overlay", overlay)
	}
	if o.run != "" {
		args = append(args, "-run", o.run)
	}
	ctx, cancel := context.WithTimeout(context.Background(), o.limit+45*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, "go", append(args, strings.Fields(o.tests)...)...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.Env = append(os.Environ(), "GOMEMLIMIT=2GiB")
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err = cmd.Run()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return survived, out.String()
	case notBuilt.MatchString(out.String()):
		return noFault, out.String()
	case errors.As(err, &exit) || ctx.Err() != nil:
		return killed, out.String()
	}
	return noFault, err.Error()
}

// write writes the faulty file and what puts it in place of the true one.
func (f fault) write(dir string) (overlay string, err error) {
	original, err := filepath.Abs(f.file)
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(f.file)
	if err != nil {
		return "", err
	}
	if f.to > len(data) || string(data[f.from:f.to]) != f.was {
		return "", fmt.Errorf("%s changed while faults were planted", f.file)
	}
	faulty := filepath.Join(dir, filepath.Base(f.file))
	if err := os.WriteFile(faulty, append(append(append([]byte(nil), data[:f.from]...), f.now...), data[f.to:]...), 0o600); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {original: faulty}})
	if err != nil {
		return "", err
	}
	overlay = filepath.Join(dir, "overlay.json")
	return overlay, os.WriteFile(overlay, text, 0o600)
}
