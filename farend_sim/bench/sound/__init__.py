"""What sounds on the pair, and what reaches the ears at its two ends."""
