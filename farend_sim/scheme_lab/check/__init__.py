"""A scheme checked: everything that can come about, and all that is wrong with it."""
