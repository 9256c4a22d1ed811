"""The lesson after a drill, and hints in it."""
