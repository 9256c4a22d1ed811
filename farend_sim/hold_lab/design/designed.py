"""One hold designed: the choice for every function, its price, its doubts, spoiled readings."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.hold_lab.cost import Price, Terms, expected_s
from farend_sim.hold_lab.design.asked import Asked
from farend_sim.hold_lab.design.believed import Priced, once_priced, twice_priced
from farend_sim.hold_lab.design.design import (
    Band,
    Changed,
    Choice,
    band,
    choose,
    curve,
    sensitivity,
)
from farend_sim.hold_lab.on_pair.terms import Hearing, hearing, terms_of
from farend_sim.hold_lab.scheme_times import span
from farend_sim.hold_lab.timings.durations import Array, Lognormal
from farend_sim.unit.table import FUNCTIONS


@dataclass(frozen=True, slots=True)
class ForFunction:
    heard: Hearing
    terms: Terms
    choice: Choice
    default_s: float
    default_expected_s: float


@dataclass(frozen=True, slots=True)
class Found:
    asked: Asked
    functions: tuple[ForFunction, ...]
    own: ForFunction
    at_s: Array
    prices: Price
    changed: tuple[Changed, ...]
    band: Band | None
    once: Priced
    twice: Priced
    warnings: tuple[str, ...]


def designed(asked: Asked) -> Found:
    functions = tuple(_for(asked, function) for function in FUNCTIONS)
    own = next(each for each in functions if each.heard.function == asked.question.function)
    hold_s = own.choice.hold_s
    at_s, prices = curve(asked.law, own.terms, hold_s)
    return Found(
        asked=asked,
        functions=functions,
        own=own,
        at_s=at_s,
        prices=prices,
        changed=tuple(sensitivity(asked.law, own.terms, hold_s)),
        band=None if asked.fit is None else band(asked.fit, own.terms),
        once=once_priced(asked.law, asked.windows, own.terms, asked.question.dig_s),
        twice=twice_priced(asked.law, asked.windows, own.terms, asked.question.dig_s),
        warnings=tuple(_warnings(asked, own)),
    )


def _for(asked: Asked, function: str) -> ForFunction:
    heard = hearing(asked.situation, function)
    terms = terms_of(asked.situation, heard, asked.question.command_s, asked.question.patience)
    scheme = span(asked.situation.scheme, function)
    default = expected_s(asked.law, scheme.default_s, terms)
    choice = choose(asked.law, terms, scheme)
    return ForFunction(heard, terms, choice, scheme.default_s, default)


def _warnings(asked: Asked, own: ForFunction) -> Iterator[str]:
    if asked.fit is not None:
        yield from asked.fit.warnings
    if asked.unread:
        yield (
            f"on this plant, in {asked.question.function}, the meter shows {asked.unread!r}: "
            "name one where it finds something, it may take longer there (--plant, --function)"
        )
    law = asked.law
    if isinstance(law, Lognormal) and asked.fit is None and law.job_log_sd == 0:
        yield "no spread between jobs was given: a pair slow at every try wants a longer hold"
    if isinstance(law, Lognormal) and law.job_log_sd >= law.log_sd and asked.fit is None:
        yield (
            "jobs differ as much as tries do: without an end to patience the mean cost of any hold "
            "has no limit"
        )
    scheme = span(asked.situation.scheme, asked.question.function)
    if not scheme.shortest_s <= own.choice.hold_s <= scheme.longest_s:
        yield f"the scheme's holds reach from {scheme.shortest_s:g} to {scheme.longest_s:g} s"
