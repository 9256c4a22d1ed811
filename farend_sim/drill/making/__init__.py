"""Drills made by level and seed, and many of them counted."""
