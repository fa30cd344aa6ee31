package main

import (
	"net"
	"os/exec"
	"runtime"
	"strconv"

	"drystalk/report/page"
	"drystalk/tongue"
)

// pageCmd serves the local web page.
type pageCmd struct {
	Port  int    `default:"0" help:"Port to listen on; 0 for a free one."`
	Open  bool   `help:"Open the page in the browser."`
	Plans string `help:"Folder in which plans are kept by name; without it they end with the program." placeholder:"FOLDER"`
}

// Run serves the page on the loopback until it is interrupted.
func (c *pageCmd) Run(t terminal) error {
	if c.Port < 0 || c.Port > 65535 {
		return usagef("--port: found %d, allowed: 0 to 65535", c.Port)
	}
	served := page.New(version)
	if c.Plans != "" {
		if err := served.KeepIn(c.Plans); err != nil {
			return usagef("--plans: found %q (%v), allowed: a folder for plans", c.Plans, err)
		}
	}
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(c.Port)))
	if err != nil {
		return usagef("--port: %v", err)
	}
	address := "http://" + l.Addr().String() + "/"
	_, _ = tongue.Fprintf(t.out, "The page is at %s on this computer only. Ctrl-C ends it.\n", address)
	if c.Plans != "" {
		_, _ = tongue.Fprintf(t.out, "Plans are kept by name in the folder %s.\n", c.Plans)
	}
	if c.Open {
		if err := openBrowser(address); err != nil {
			_, _ = tongue.Fprintf(t.err, "warning: the browser could not be opened (%v); open the address above yourself\n", err)
		}
	}
	return served.Serve(t.ctx, l)
}

// openBrowser opens an address of this program in the user's browser.
func openBrowser(address string) error {
	switch runtime.GOOS {
	case "windows":
		return exec.Command("rundll32", "url.dll,FileProtocolHandler", address).Start()
	case "darwin":
		return exec.Command("open", address).Start()
	}
	return exec.Command("xdg-open", address).Start()
}
