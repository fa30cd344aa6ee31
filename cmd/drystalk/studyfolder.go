package main

import (
	"crypto/sha256"
	"math"
	"slices"
	"strings"

	"drystalk/report"
	"drystalk/report/folder"
	"drystalk/scenarios"
	"drystalk/sim/study"
	"drystalk/tongue"
)

// studyFinishCmd puts the shares of a study together.
type studyFinishCmd struct {
	Folder string `arg:"" help:"Folder of the study."`
	Table  string `placeholder:"FILE" help:"Write all rows into one file besides, .parquet or .csv."`
	JSON   bool   `name:"json" help:"Print what happens as lines of JSON and nothing else."`
}

// Run puts the shares together; a study of which shards are missing is an error.
func (c *studyFinishCmd) Run(t terminal) error {
	if err := checkTable(c.Table); err != nil {
		return err
	}
	f, m, err := studyIn(c.Folder)
	if err != nil {
		return err
	}
	build, err := buildOf()
	if err != nil {
		return err
	}
	if m.Build != build {
		return usagef("%s: found parts by another build of the program (%s %s), allowed: this one (%s %s); finish with that program", c.Folder, m.Program.Version, m.Build, version, build)
	}
	dir, err := openFolder(c.Folder, f)
	if err != nil {
		return usageError{err}
	}
	return finish(t, f, dir, c.Folder, c.Table, newTeller(t, c.JSON, f.Study, nil, nil))
}

// studyIn reads the study of a folder from what it keeps of it.
func studyIn(dir string) (*scenarios.StudyFile, *folder.Manifest, error) {
	m, err := folder.Read(dir)
	if err != nil {
		return nil, nil, usagef("%s", strings.TrimSuffix(err.Error(), ": file does not exist"))
	}
	open, name, err := folder.Inputs(dir, m)
	if err != nil {
		return nil, nil, usageError{err}
	}
	data, err := open(name)
	if err != nil {
		return nil, nil, err
	}
	f, err := scenarios.ReadStudy(name, data, open)
	if err != nil {
		return nil, nil, tongue.Errorf("%s: what the study was read from cannot be read by this program: %w", dir, err)
	}
	hash, err := f.Hash()
	if err != nil {
		return nil, nil, err
	}
	if hash != m.Hash {
		return nil, nil, usagef("%s: found the study %s, and this program makes %s of the same files, allowed: the version %s that began it", dir, m.Hash, hash, m.Program.Version)
	}
	return f, m, nil
}

// studyVerifyCmd works shards out again.
type studyVerifyCmd struct {
	Folder   string  `arg:"" help:"Folder of the study."`
	Fraction float64 `default:"0.01" help:"Of the shards to work out again, above 0 to 1; one at least."`
	Workers  int     `default:"0" help:"Shards worked out side by side; 0 for one on each processor."`
	JSON     bool    `name:"json" help:"Print what happens as lines of JSON and nothing else."`
}

// Run works some shards out again and compares them, and the digest of all rows with the manifest.
func (c *studyVerifyCmd) Run(t terminal) error {
	if err := checkWorkers(c.Workers); err != nil {
		return err
	}
	if !(c.Fraction > 0 && c.Fraction <= 1) {
		return usagef("--fraction: found %g, allowed: above 0 to 1", c.Fraction)
	}
	f, m, err := studyIn(c.Folder)
	if err != nil {
		return err
	}
	dir := folder.At(c.Folder, *m)
	result, err := f.Merge(t.ctx, dir, nil)
	if err != nil {
		return err
	}
	if m.Result == nil || m.Result.Digest != result.Digest {
		return tongue.Errorf("%s: found rows of the digest %s, allowed: that of the manifest, %s", c.Folder, result.Digest, digestOf(m))
	}
	plan, err := f.Plan()
	if err != nil {
		return err
	}
	some := chosen(m.Hash, plan, c.Fraction)
	tell := newTeller(t, c.JSON, f.Study, some, some)
	err = f.Fill(t.ctx, dir, some, workersOf(c.Workers), tell.shard) // what is there is compared
	tell.end()
	if err != nil {
		return err
	}
	tell.event(map[string]any{"event": "verified", "shards": len(some), "of_shards": len(plan), "digest": result.Digest})
	if !c.JSON {
		_, _ = tongue.Fprintf(t.out, "%s of %s shards were worked out again and came out the same; the %s rows have the digest %s that the manifest states.\n",
			report.Number(float64(len(some))), report.Number(float64(len(plan))), report.Number(float64(result.Trials)), result.Digest)
	}
	return nil
}

// digestOf returns the digest that a manifest states.
func digestOf(m *folder.Manifest) string {
	if m.Result == nil {
		return tongue.Say("which states none: the study was not finished")
	}
	return m.Result.Digest
}

// chosen returns a fraction of the shards, one at least: always the same ones of a study, spread
// over it by chance.
func chosen(hash string, plan []study.Shard, fraction float64) []study.Shard {
	rank := func(s study.Shard) string {
		sum := sha256.Sum256([]byte(hash + s.Key))
		return string(sum[:])
	}
	out := slices.Clone(plan)
	slices.SortFunc(out, func(a, b study.Shard) int { return strings.Compare(rank(a), rank(b)) })
	return out[:min(len(out), max(1, int(math.Round(fraction*float64(len(out))))))]
}
