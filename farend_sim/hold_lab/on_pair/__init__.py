"""What the hold lab asks of the real bench: a hold, a meter in use, a spoiled display."""
