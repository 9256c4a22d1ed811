"""Which instrument it is: its own gain error, fixed by the seed, so that readings teach margins."""

import hashlib


def instrument_error(seed: int, name: str) -> float:
    """This instrument's own gain error, -1 to 1 of its stated accuracy."""
    digest = hashlib.sha256(f"{seed}/instrument/{name}".encode()).digest()
    return (int.from_bytes(digest[:4], "big") / 0xFFFFFFFF) * 2 - 1
