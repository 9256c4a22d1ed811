"""The full screen in a browser: a server on this machine, a process a person."""
