"""The expert: what may be wrong with a pair, weighed by readings through the exact network."""
