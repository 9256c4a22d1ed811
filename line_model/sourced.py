"""A number without a source does not load."""

from dataclasses import dataclass

from line_model.errors import SourceError


@dataclass(frozen=True, slots=True)
class Sourced:
    """A value with its unit and where it is from."""

    value: float
    unit: str
    source: str

    def __post_init__(self) -> None:
        if not self.source.strip():
            raise SourceError(f"{self.value} {self.unit} has no source")
