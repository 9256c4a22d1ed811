"""An answer in one shape, for a program, a terminal and a browser."""
