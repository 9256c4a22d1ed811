"""The copper pair as it lies in the ground, and the instruments at its near end."""
