"""A scheme carried away: C, table, picture, vectors, card."""
