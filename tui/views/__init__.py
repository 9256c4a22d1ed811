"""Pure: a snapshot to what panels show."""
