"""A unit that says which of its timers has come, and a walk of unit and automaton side by side."""

import random
from dataclasses import replace

from farend_sim import files
from farend_sim.scheme_lab.check.automaton import PAUSE
from farend_sim.scheme_lab.check.model import BY_HAND, OVER, SLEEP, START, Model, Moment
from farend_sim.unit import codes
from farend_sim.unit.codes import damm
from farend_sim.unit.decoder import Meant
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.scheme import Lockout, Scheme

PROFILE = files.load_unit("reference", files.shipped.folder("scenarios"))


class WatchedUnit(Unit):
    """Hands each timer that has come to the model, in the unit's own order."""

    def __init__(self, model: Model) -> None:
        super().__init__(model.scheme, PROFILE.timing, PROFILE.electrical.tone_hz)
        self.model = model
        self.at: Moment = START

    def _run_out(self, due_us: int) -> Meant | None:
        hold_us, decoder_us = self.hold_deadline_us, self._decoder.deadline_us
        is_hold = hold_us is not None and hold_us <= due_us
        is_decoder = not is_hold and decoder_us is not None and decoder_us <= due_us
        heard = super()._run_out(due_us)
        if is_hold or is_decoder:
            self.follow(OVER if is_hold else PAUSE)
        elif heard is not None:
            self.follow(SLEEP)
        return heard

    def follow(self, symbol: str) -> None:
        (step,) = [each for each in self.model.timed(self.at) if each.symbol == symbol]
        self.at = step.to

    def happen(self, symbol: str, now_us: int) -> None:
        """Let a key or an act happen to both."""
        self.wake(now_us - 1)
        if self.at.place.locked and now_us >= self._decoder._locked_until_us:
            self.at = self.at._replace(place=self.model.automaton.unlock(self.at.place))
        event = BY_HAND.get(symbol, DigitHeard(symbol))
        if symbol in BY_HAND:
            (step,) = [each for each in self.model.steps(self.at) if each.symbol == symbol]
        else:
            step = self.model.key(self.at, symbol)
        self.handle(event, now_us)
        self.at = step.to


def scheme(name: str) -> Scheme:
    return files.find_scheme(name, draft=True)


def model(of: Scheme) -> Model:
    return Model(codes.compiled(of), of.keys)


def variants() -> dict[str, Scheme]:
    """Each thing that a scheme can say, said once."""
    offset, terse, framed = scheme("offset"), scheme("terse"), scheme("framed")
    twice = tuple(
        replace(each, confirmed=each.does in ("strap", "release")) for each in offset.command
    )
    later = tuple(replace(each, keeps_attention=True) for each in offset.command)
    return {
        "offset": offset,
        "terse": terse,
        "framed": framed,
        "welded": scheme("welded"),
        "shut-in": scheme("shut-in"),
        "dropped": replace(offset, leftover="drop"),
        "kept": replace(offset, leftover="keep", command=twice),
        "kept-open": replace(terse, leftover="keep", knock_after_hold=False),
        "confirmed": replace(offset, command=twice, leftover="drop"),
        "locked": replace(offset, lockout=Lockout(refusals=2, lock_s=20.0), knock_after_hold=False),
        "talkative": replace(offset, command=later),
        "unchecked": replace(framed, check="none"),
        "no-restart": replace(offset, restart=False),
        "sixteen": replace(offset, keys="0123456789*#ABCD", knock="AB", end="D"),
        "equal": replace(offset, knock="22"),
    }


def words(of: Scheme, chance: random.Random) -> str:
    """Something that a person might key: whole commands, parts of them, and nonsense."""
    command = chance.choice(of.command)
    number = str(chance.choice([5, 60, 901, 3])).zfill(max(command.argument_digits, 1))
    body = command.code + (number if command.argument_digits else "")
    if of.check == "command" or (of.check == "argument" and command.argument_digits):
        body += str(damm(of.check_table, body if of.check == "command" else number))
    whole = of.start + body + of.end
    knock = of.knock + of.unit_number
    made = chance.choice([knock, whole, knock + whole, knock + whole, whole * 2, whole[:-1]])
    if chance.random() < 0.3:
        at = chance.randrange(len(made) + 1)
        made = made[:at] + chance.choice(of.keys) + made[at + chance.randrange(2) :]
    return made
