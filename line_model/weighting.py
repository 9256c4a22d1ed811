"""C-message weighting: how loud a frequency is to a telephone's user.

Source: ITU-T O.41, as restated in a filter-design toolbox's table.
"""

import numpy as np

C_MESSAGE_DB = (
    (60, -55.7),
    (100, -42.5),
    (200, -25.1),
    (300, -16.3),
    (400, -11.2),
    (500, -7.7),
    (600, -5.0),
    (700, -2.8),
    (800, -1.3),
    (900, -0.3),
    (1000, 0.0),
    (1200, -0.4),
    (1300, -0.7),
    (1500, -1.2),
    (1800, -1.3),
    (2000, -1.1),
    (2500, -1.1),
    (2800, -2.0),
    (3000, -3.0),
    (3300, -5.1),
    (3500, -7.1),
    (4000, -14.6),
    (4500, -22.3),
    (5000, -28.7),
)
"""Frequency [Hz] and weight [dB re 1000 Hz]."""

_LOG_HZ = np.log([hz for hz, _ in C_MESSAGE_DB])
_DB = np.array([db for _, db in C_MESSAGE_DB])


def c_message_db(hz: float) -> float:
    """The weight at a frequency [dB], even in log frequency between the table's rows."""
    return float(np.interp(np.log(hz), _LOG_HZ, _DB))
