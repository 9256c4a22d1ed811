"""C-message weighting against the published behaviour of a noise set."""

from math import log10

import numpy as np
import pytest

from line_model.weighting import C_MESSAGE_DB, c_message_db

WHITE_DBM = 0.0
BRN_DB = 90.0
"""A noise set's zero is a picowatt at 1000 Hz: 90 dB under a milliwatt."""


def test_a_milliwatt_at_1000_hz_is_90_dbrnc() -> None:
    """The calibration of a noise set."""
    assert pytest.approx(90.0) == BRN_DB + c_message_db(1000.0)


def test_a_milliwatt_of_white_noise_is_88_dbrnc() -> None:
    """Even from 0 to 3 kHz, it reads 88 dBrnC. Source: a federal glossary's entry on dBrn."""
    hz = np.arange(0.5, 3000.0, 1.0)  # the middle of each hertz
    power = np.array([10 ** (c_message_db(float(f)) / 10) for f in hz])
    assert pytest.approx(88.0, abs=0.5) == BRN_DB + 10 * log10(power.mean())


@pytest.mark.parametrize(
    ("hz", "db"),
    [(180.0, -27.74), (420.0, -10.43), (540.0, -6.56), (660.0, -3.64), (1020.0, -0.04)],
)
def test_between_its_rows_it_goes_with_log_frequency(hz: float, db: float) -> None:
    """At harmonics of 60 Hz it is what a hand calculation from the table gives."""
    assert pytest.approx(db, abs=0.01) == c_message_db(hz)


def test_its_rows_are_its_own() -> None:
    """At a frequency of the table the weight is the table's."""
    assert [db for _, db in C_MESSAGE_DB] == pytest.approx(
        [c_message_db(float(hz)) for hz, _ in C_MESSAGE_DB]
    )
