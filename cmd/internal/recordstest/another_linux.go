package recordstest

import (
	"os"
	"os/user"
	"strconv"
	"syscall"
)

// another is as whom a server runs that refuses to be run by root, and gives them the folder;
// it ends with the tests, whatever ends them.
func another(folder string) (*syscall.SysProcAttr, error) {
	as := &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	if os.Getuid() != 0 {
		return as, nil
	}
	who, err := user.Lookup("postgres")
	if err != nil {
		return nil, err
	}
	uid, err := strconv.ParseUint(who.Uid, 10, 32)
	if err != nil {
		return nil, err
	}
	gid, err := strconv.ParseUint(who.Gid, 10, 32)
	if err != nil {
		return nil, err
	}
	as.Credential = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	return as, os.Chown(folder, int(uid), int(gid))
}
