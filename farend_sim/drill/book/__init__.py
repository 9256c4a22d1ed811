"""The class book."""
