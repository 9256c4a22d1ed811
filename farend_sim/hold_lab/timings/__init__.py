"""Stopwatch timings into laws of time."""
