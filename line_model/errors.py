"""What can go wrong on this floor, told apart by who is at fault."""


class LineError(Exception):
    """A line, a plant or a meter that cannot be."""


class SourceError(LineError):
    """A number without a source."""
