"""How answers are written: JSON to nine digits, and numbers that are asked for."""

import json
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from farend_sim.errors import BadFileError

if TYPE_CHECKING:
    from farend_sim.answers.answer import Answer


def plain(value: Any) -> Any:
    """A value as JSON has it: floats to nine significant digits, the infinite as null."""
    if isinstance(value, dict):
        return {key: plain(inside) for key, inside in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, float):
        return float(f"{value:.9g}") if math.isfinite(value) else None
    return value


def echo_json(answer: dict[str, Any]) -> None:
    """Print an answer as one line of JSON."""
    click.echo(json.dumps(plain(answer), allow_nan=False))


def show_answer(answer: "Answer", as_json: bool, page_file: Path | None) -> None:
    """Print an answer as text or JSON, and write its page as well if one is wanted."""
    from farend_sim.answers.page import page
    from farend_sim.answers.text import answer_text

    if page_file is not None:
        write_out(page_file, page(answer))
    if as_json:
        echo_json(answer.figures)
    else:
        click.echo("\n".join(answer_text(answer)))


def write_out(path: Path, text: str) -> None:
    """Write a file that a person asked for.

    Raises:
        BadFileError: it cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        why = (error.strerror or "it closed").lower()
        raise BadFileError(f"{path}: found {why}, expected to write there") from None


class Number(click.ParamType[float]):
    """A finite number within limits: click's own range lets `nan` through."""

    name = "number"

    def __init__(self, least: float, most: float, unit: str) -> None:
        self.least, self.most, self.unit = least, most, unit

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        if not self.least <= number <= self.most:
            expected = f"{self.unit} from {self.least:g} to {self.most:g}"
            self.fail(f"found {value!r}, expected {expected}", param, ctx)
        return number
