"""What is wrong with a scheme that reads well: all of it at once, each with its key's path.

Law: a scheme without problems compiles, and no keys of it mean two things or call for help.
"""

from collections.abc import Callable, Iterator
from itertools import combinations

from farend_sim.errors import Problem, once, unknown
from farend_sim.unit.check_table import table_problems
from farend_sim.unit.scheme import KEYPAD, Command, Scheme
from farend_sim.unit.table import DOES, FUNCTIONS, OWN_REPLIES, State

Check = Callable[[Scheme], Iterator[Problem]]


def problems(scheme: Scheme) -> tuple[Problem, ...]:
    """Return all that is wrong; a scheme with none is fit to be loaded and run."""
    return faults(scheme) + hazards(scheme)


def faults(scheme: Scheme) -> tuple[Problem, ...]:
    """Return what makes no sense: such a scheme cannot even be examined."""
    return _all(
        scheme,
        (
            _keypad,
            _number,
            _special_keys,
            _check_digits,
            _lockout,
            _every_command,
            _misplaced,
            _set_hold,
            _replies,
        ),
    )


def hazards(scheme: Scheme) -> tuple[Problem, ...]:
    """Return what makes sense and is dangerous: it can be examined, and found out."""
    return tuple(problem for check in HAZARDS.values() for problem in check(scheme))


def _all(scheme: Scheme, checks: tuple[Check, ...]) -> tuple[Problem, ...]:
    return tuple(problem for check in checks for problem in check(scheme))


def _codes(scheme: Scheme) -> Iterator[tuple[str, Command]]:
    for at, command in enumerate(scheme.command):
        yield f"command[{at}]", command


def _keypad(scheme: Scheme) -> Iterator[Problem]:
    if strange := "".join(sorted(set(scheme.keys) - set(KEYPAD))):
        yield Problem("keys", f"{scheme.keys!r} with {strange!r}", f"keys out of {KEYPAD!r}")
    if len(set(scheme.keys)) < len(scheme.keys):
        yield Problem("keys", repr(scheme.keys), "each key once")
    spelt = [("knock", scheme.knock), ("start", scheme.start), ("end", scheme.end)]
    spelt += [(f"{path}.code", command.code) for path, command in _codes(scheme)]
    for path, keys in spelt:
        strange = "".join(sorted(set(keys) - set(scheme.keys)))
        if strange:
            yield Problem(path, f"{keys!r} with {strange!r}", f"keys out of {scheme.keys!r}")


def _knock(scheme: Scheme) -> Iterator[Problem]:
    if len(scheme.knock) > 1 and len(set(scheme.knock)) == 1:
        yield Problem(
            "knock",
            f"{scheme.knock!r}, equal keys",
            "two different keys: a dropout fakes equal ones, a short pause merges them",
        )


def _number(scheme: Scheme) -> Iterator[Problem]:
    numbers = [("unit_number", scheme.unit_number)]
    numbers += [(f"neighbours[{at}]", each) for at, each in enumerate(scheme.neighbours)]
    for path, number in numbers:
        if not (number.isascii() and number.isdecimal()):
            yield Problem(path, repr(number), "digits")


def _special_keys(scheme: Scheme) -> Iterator[Problem]:
    for name, key in (("start", scheme.start), ("end", scheme.end)):
        if len(key) > 1:
            yield Problem(name, repr(key), "one key, or none")
    if scheme.start and scheme.start == scheme.end:
        yield Problem("end", repr(scheme.end), "a key other than the start key")
    special = {"start": scheme.start, "end": scheme.end}
    if scheme.restart:
        special["restart"] = scheme.knock[0]
        if scheme.knock[0] in (scheme.start, scheme.end):
            yield Problem("restart", "true", "a knock whose first key neither starts nor ends")
    for path, command in _codes(scheme):
        for name, key in special.items():
            if key and key in command.code:
                yield Problem(
                    f"{path}.code", repr(command.code), f"a code without {key!r}, the {name} key"
                )


def _calls(scheme: Scheme) -> Iterator[Problem]:
    """An office that is still on the pair dials what is keyed: number, then code."""
    number = scheme.unit_number
    for call in scheme.call:
        if number.startswith(call.digits):
            yield _call_problem("unit_number", f"{number!r}", call.digits, call.reaches)
            continue
        for path, command in _codes(scheme):
            dialled = number + "".join(key for key in command.code if key.isdecimal())
            if dialled.startswith(call.digits):
                found = f"{command.code!r} after unit {number}"
                yield _call_problem(f"{path}.code", found, call.digits, call.reaches)


def _call_problem(path: str, found: str, digits: str, reaches: str) -> Problem:
    return Problem(path, f"{found}, which begins {digits}", f"digits that do not call {reaches}")


def _check_digits(scheme: Scheme) -> Iterator[Problem]:
    if scheme.check == "none":
        return
    yield from table_problems(scheme.check_table)
    if scheme.check == "command":
        for path, command in _codes(scheme):
            if not command.code.isdecimal():
                yield Problem(f"{path}.code", repr(command.code), "digits, as a check covers them")


def _lockout(scheme: Scheme) -> Iterator[Problem]:
    if scheme.lockout.refusals and not scheme.lockout.lock_s:
        yield Problem("lockout.lock_s", "0", "a time, since refusals lock the unit out")


def _every_command(scheme: Scheme) -> Iterator[Problem]:
    does = [command.does for command in scheme.command]
    for needed in DOES:
        if needed not in does:
            yield Problem("command", f"none that does {needed!r}", "one command for each function")
    for at, (path, command) in enumerate(_codes(scheme)):
        if command.does in does[:at]:
            yield Problem(f"{path}.does", repr(command.does), "one command for each function")


def _ambiguous(scheme: Scheme) -> Iterator[Problem]:
    for (_, one), (path, other) in combinations(_codes(scheme), 2):
        if one.code == other.code:
            yield Problem(f"{path}.code", repr(other.code), f"a code other than {one.does}'s")
        elif _overlap(scheme, one, other):
            yield Problem(
                f"{path}.code",
                f"{other.code!r} beside {one.code!r} of {one.does}",
                "codes of which none can be read as another",
            )


def _overlap(scheme: Scheme, one: Command, other: Command) -> bool:
    """Tell whether some keys fit both. With an end key the exact length tells them apart."""
    begins = one.code.startswith(other.code) or other.code.startswith(one.code)
    return begins and (not scheme.end or _length(scheme, one) == _length(scheme, other))


def _length(scheme: Scheme, command: Command) -> int:
    """Count code and argument; the check digit only where some commands have none."""
    checked = scheme.check == "argument" and command.argument_digits > 0
    return len(command.code) + command.argument_digits + checked


def _misplaced(scheme: Scheme) -> Iterator[Problem]:
    for path, command in _codes(scheme):
        if command.does not in FUNCTIONS and command.hold_s is not None:
            yield Problem(f"{path}.hold_s", f"{command.hold_s:g}", "no hold but a function's")
        if command.confirmed and command.argument_digits:
            yield Problem(f"{path}.confirmed", "true", "false beside an argument: its check digit")


def _holds(scheme: Scheme) -> Iterator[Problem]:
    for path, command in _codes(scheme):
        if command.does not in FUNCTIONS:
            continue
        missing = [
            name for name in ("hold_s", "shortest_s", "longest_s") if getattr(command, name) is None
        ]
        for name in missing:
            yield Problem(f"{path}.{name}", "nothing", "seconds: every hold ends by a timer")
        if not missing and not _within(command.hold_s, command):
            yield Problem(
                f"{path}.hold_s",
                f"{command.hold_s:g}",
                f"within {command.shortest_s:g} to {command.longest_s:g}",
            )


def _within(seconds: float | None, bounds: Command) -> bool:
    if seconds is None or bounds.shortest_s is None or bounds.longest_s is None:
        return True
    return bounds.shortest_s <= seconds <= bounds.longest_s


def _set_hold(scheme: Scheme) -> Iterator[Problem]:
    for path, setter in _codes(scheme):
        if setter.does != "set-hold":
            if setter.argument_digits:
                found = f"{setter.argument_digits} for {setter.does}"
                yield Problem(f"{path}.argument_digits", found, "0 but for set-hold")
            continue
        if not setter.argument_digits:
            yield Problem(f"{path}.argument_digits", "0", "how many digits of seconds")
        for name in ("shortest_s", "longest_s"):
            seconds = getattr(setter, name)
            if seconds is None:
                yield Problem(f"{path}.{name}", "nothing", "seconds: what can be set has bounds")
            for function in scheme.command:
                if function.does in FUNCTIONS and not _within(seconds, function):
                    within = f"within the holds of {function.does}"
                    yield Problem(f"{path}.{name}", f"{seconds:g}", within)


def _replies(scheme: Scheme) -> Iterator[Problem]:
    names = [reply.name for reply in scheme.reply]
    states = {state.value for state in State}
    for needed in OWN_REPLIES.values():
        if needed not in names:
            yield Problem("reply", f"none named {needed!r}", "one for each of the unit's own")
    for path, command in _codes(scheme):
        if command.reply not in names:
            yield unknown(f"{path}.reply", command.reply, names, "the name of a reply")
    yield from once("reply", names)
    for at, name in enumerate(names):
        if not _is_used(name, scheme, states):
            yield Problem(f"reply[{at}].name", repr(name), "a reply that something sounds")


def _is_used(name: str, scheme: Scheme, states: set[str]) -> bool:
    used = {*OWN_REPLIES.values(), *(command.reply for command in scheme.command)}
    base, _, state = name.partition("-")
    return name in used or (base in used and state in states)


HAZARDS: dict[str, Check] = {
    "equal-keys": _knock,
    "calls": _calls,
    "clash": _ambiguous,
    "endless-hold": _holds,
}
"""The hazards by the names that the check of a scheme gives them."""
