"""The far-end unit, its control channel, and the bench that couples them to a line."""
