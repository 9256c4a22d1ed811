"""Attempts as files keep them: begun, gone on with, and read again.

Law: a journal's head has the whole drill sealed in it, so that an attempt needs no other file.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from farend_sim.drill.drill import Drill
from farend_sim.drill.files import drill_of
from farend_sim.drill.seal import BrokenSealError, deciphered, enciphered
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.journal import Entry, Journal, read_journal
from farend_sim.errors import BadFileError


def start(
    drill: Drill,
    path: Path | None = None,
    *,
    seed: int | None = None,
    about: Mapping[str, Any] | None = None,
) -> Attempt:
    """Begin an attempt and its journal; another seed than the drill's is other instruments.

    Raises:
        BadFileError: there is an attempt at that path already, or none can be written.
    """
    drill = drill if seed is None else reseeded(drill, seed)
    head = {
        "journal": 1,
        "drill": drill.name,
        "seed": drill.situation.scenario.seed,
        **(about or {}),
        "sealed": enciphered(drill.sealed),
    }
    attempt = Attempt(drill, head)
    if path is not None:
        attempt.keep(Journal.create(path, head))
    return attempt


def resume(path: Path) -> Attempt:
    """Go on with an attempt.

    Raises:
        BadFileError: the path is no attempt's journal, or another process has it open.
    """
    journal, entries = Journal.reopen(path)
    attempt = replayed(entries, str(path))
    attempt.keep(journal)
    return attempt


def read(path: Path) -> Attempt:
    """An attempt as its journal tells it; nothing more can be kept."""
    return replayed(read_journal(path), str(path))


def reseeded(drill: Drill, seed: int) -> Drill:
    """A drill with other instruments: the same trouble, another seed."""
    scenario = replace(drill.situation.scenario, seed=seed)
    return replace(drill, situation=replace(drill.situation, scenario=scenario))


def replayed(entries: list[Entry], filename: str) -> Attempt:
    """The attempt that a journal's entries tell of.

    Raises:
        BadFileError: they do not tell of one.
    """
    head, *rest = entries
    try:
        drill = reseeded(drill_of(deciphered(head["sealed"]), head["drill"]), head["seed"])
    except (BrokenSealError, KeyError, TypeError):
        raise BadFileError(f"{filename}:1: found a broken head, expected a sealed drill") from None
    attempt = Attempt(drill, head)
    for number, entry in enumerate(rest, start=2):
        try:
            attempt.again(entry)
        except (BadFileError, KeyError, TypeError) as error:
            raise BadFileError(f"{filename}:{number}: found {error}, expected a step") from None
    return attempt
