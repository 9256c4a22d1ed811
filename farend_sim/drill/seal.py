"""Drills sealed, so that a trainee who opens the file does not read the answer.

A sealed drill tells in clear what the trainee is told anyway; the author's text and the expert's
steps are compressed and enciphered. Law: this keeps answers from eyes, not from a determined
person: the key is in this file.
"""

import base64
import hashlib
import json
import textwrap
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from farend_sim.loading.toml_text import toml_text

_NONCE_BYTES = 12
_WIDTH = 88
_HEAD = """\
# A sealed drill: what is wrong with the pair is in `sealed`, enciphered so that it is not read by
# chance. `farend-sim drill do` plays it. Simulator: nothing here proves a real pair safe; local
# codes and licensed practice come first.
"""


@dataclass(frozen=True, slots=True)
class Sealed:
    """What is under the seal: the author's text, and the steps of an expert."""

    source: str
    steps: str = ""

    @property
    def expert_steps(self) -> list[str]:
        """What the expert does, a step each."""
        lines = (line.strip() for line in self.steps.splitlines())
        return [line for line in lines if line and not line.startswith("#")]


class BrokenSealError(Exception):
    """What is under the seal is not whole."""


def seal(sealed: Sealed, clear: dict[str, Any]) -> str:
    """A sealed drill as a file's text; `clear` is what may be read."""
    wrapped = "\n".join(textwrap.wrap(enciphered(sealed), _WIDTH))
    return _HEAD + toml_text({"format": 1, **clear, "sealed": {"text": wrapped}})


def enciphered(sealed: Sealed) -> str:
    """What is under the seal as one word of base 64."""
    plain = json.dumps([sealed.source, sealed.steps], ensure_ascii=False).encode()
    nonce = _nonce(plain)
    return base64.b64encode(nonce + _mixed(zlib.compress(plain, 9), nonce)).decode()


def deciphered(text: str) -> Sealed:
    """Open a seal.

    Raises:
        BrokenSealError: the text was changed or cut short.
    """
    try:
        raw = base64.b64decode("".join(text.split()), validate=True)
        nonce = raw[:_NONCE_BYTES]
        plain = zlib.decompress(_mixed(raw[_NONCE_BYTES:], nonce))
    except (ValueError, zlib.error):
        raise BrokenSealError from None
    if _nonce(plain) != nonce:
        raise BrokenSealError
    source, steps = json.loads(plain)
    return Sealed(source, steps)


def _nonce(plain: bytes) -> bytes:
    """Chosen by what is sealed: it starts the keystream, and afterwards proves the text whole."""
    return hashlib.sha256(plain).digest()[:_NONCE_BYTES]


def _mixed(data: bytes, nonce: bytes) -> bytes:
    return bytes(a ^ b for a, b in zip(data, _keystream(nonce), strict=False))


def _keystream(nonce: bytes) -> Iterator[int]:
    block = 0
    while True:
        yield from hashlib.sha256(b"drill" + nonce + block.to_bytes(8, "big")).digest()
        block += 1
