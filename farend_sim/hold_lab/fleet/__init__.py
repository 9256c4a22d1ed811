"""One default for many meters."""
