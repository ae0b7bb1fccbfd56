package recordstest

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"
)

// start starts a server as somebody who may: it refuses to be run by root.
func start() (*Server, error) {
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil {
		return nil, err
	}
	if len(found) == 0 {
		return nil, exec.ErrNotFound
	}
	slices.Sort(found)
	programs := filepath.Dir(found[len(found)-1])
	folder, err := os.MkdirTemp("/tmp", "pg") // the name of a socket has room for about 100 characters
	if err != nil {
		return nil, err
	}
	as, err := another(folder)
	if err != nil {
		return nil, err
	}
	data := filepath.Join(folder, "data")
	init := exec.Command(filepath.Join(programs, "initdb"), "--no-sync", "--auth=trust", "--username=class", "--encoding=UTF8", "--locale=C", "-D", data)
	init.Dir, init.SysProcAttr = folder, as
	if out, err := init.CombinedOutput(); err != nil {
		return nil, errors.Join(fmt.Errorf("initdb: %w: %s", err, out), os.RemoveAll(folder))
	}
	log, err := os.Create(filepath.Join(folder, "log"))
	if err != nil {
		return nil, err
	}
	defer log.Close()
	cmd := exec.Command(filepath.Join(programs, "postgres"), "-D", data, "-c", "listen_addresses=", "-c", "unix_socket_directories="+folder, "-c", "max_connections=100")
	cmd.Dir, cmd.SysProcAttr, cmd.Stdout, cmd.Stderr = folder, as, log, log
	s := &Server{folder, cmd}
	if err := cmd.Start(); err != nil {
		return nil, errors.Join(err, os.RemoveAll(folder))
	}
	db, err := sql.Open("pgx", s.place("postgres"))
	if err != nil {
		return nil, err
	}
	defer db.Close()
	for range 200 {
		if err = db.Ping(); err == nil {
			return s, nil
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.stop()
	return nil, err
}
