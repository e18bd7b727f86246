package main

// This file takes all jobs out of the store, puts a backup back, and prints what the
// files of jobs look like, for those who must do without this program.

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/store/restore"
)

type exportCommand struct {
	All string `required:"" placeholder:"FOLDER" complete:"file" help:"Folder for the files; it is made where it is not there."`
	forceFlag
	jsonFlag
}

// exportDone is what an export wrote.
type exportDone struct {
	Folder    string `json:"folder"`
	Written   int    `json:"written"`
	Unchanged int    `json:"unchanged"` // were there already, the same
}

// Run writes each job of the store into a file of its own. One that is there is kept,
// and an error where it is not the same.
func (c *exportCommand) Run(o *outside) error {
	s, err := o.readStore()
	if err != nil {
		return err
	}
	defer s.Close()
	heads, _, err := s.List(store.ListOptions{})
	if err != nil {
		return err
	}
	if err := os.MkdirAll(c.All, 0o700); err != nil {
		return files.Unwritten(c.All, err)
	}
	done := exportDone{Folder: c.All}
	bar := o.progress("writing", "jobs", "those are in the folder; run it again to go on")
	defer bar.End()
	for i, h := range heads {
		if err := bar.Step(i, len(heads)); err != nil {
			return err
		}
		record, err := summaryOf(storeJournal{s}, h.ID, report.JSON, report.Options{Zone: time.Local})
		if err != nil {
			return err
		}
		path := filepath.Join(c.All, h.ID+"."+report.JSON.String())
		if there, err := os.ReadFile(path); err == nil && bytes.Equal(there, record) {
			done.Unchanged++
			continue
		}
		if err := c.Write(o.owned, path, record); err != nil {
			return fmt.Errorf("%w; %d of %d jobs are in the folder", err, done.Written+done.Unchanged, len(heads))
		}
		done.Written++
	}
	bar.End()
	said := new(sheet)
	said.Note("%s: %d job(s) written, %d were there already", text.Visible(c.All), done.Written, done.Unchanged)
	return o.show(c.jsonFlag, done, said)
}

type restoreCommand struct {
	File    string `arg:"" complete:"file" help:"Backup to put in the place of the store. It is not changed; what is there is kept under another name."`
	Journal string `placeholder:"FILE" complete:"file" help:"Also take up what this journal holds after the backup."`
	jsonFlag
}

// Run puts a backup back and says what is kept of what was there.
func (c *restoreCommand) Run(o *outside) error {
	path, err := o.storePath()
	if err != nil {
		return err
	}
	step, end := o.steps("nothing was changed")
	done, err := restore.Store(path, c.File, c.Journal, o.now(), step)
	if end(); err != nil {
		for _, kept := range done.Kept {
			fmt.Fprintf(o.err, "tundish: kept: %s\n", text.Visible(kept))
		}
		return err
	}
	return o.show(c.jsonFlag, done, rows.Restored(done, c.File, c.Journal))
}

type schemaCommand struct{ jsonFlag }

// Run prints the schema of a job's file. It is JSON in any case.
func (*schemaCommand) Run(o *outside) error {
	_, err := io.WriteString(o.out, report.Schema)
	return err
}
