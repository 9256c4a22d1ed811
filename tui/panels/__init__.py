"""Panels of the bench: one widget a file. They are given frozen views and post what was asked."""
