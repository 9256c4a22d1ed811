"""How long a person takes: to find a key, to press it, to answer a reply, to change the clips.

Law: this is the only account of it in code; who dials in a trial is drawn, and their times stand in
a population's file.
"""

KEY_S = 0.5
"""A key found and pressed, by somebody who dials often [s]. Common practice, no source."""
FIND_S = 1.5
"""A key found with the eye, by somebody who does not [s]. Common practice, no source: one or two
seconds."""
MOVE_S = 0.1
"""For each key's breadth that the finger moves [s]. Common practice, no source."""
LOOK_UP_S = 2.0
"""To work out a check digit on a card [s]. Common practice, no source: two seconds at best."""
REACT_S = 0.7
"""From hearing a reply to doing the next thing [s]. Common practice, no source."""
CLIPS_S = 4.0
"""Meter off, keypad on [s]. Invented for the demo. The way back is part of the reading."""
SHORTEST_MS = 25
"""A finger is no faster than this, on a key or between two [ms]. Common practice, no source."""
