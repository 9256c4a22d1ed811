"""Drills: a hidden trouble to find, marks for how it was found, and a lesson after it."""
