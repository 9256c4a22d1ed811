"""A scheme tried: dialled by the many, over simulated pairs, through the real receiver."""
