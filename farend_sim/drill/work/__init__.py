"""A person's work on a drill: on disk before it acts, replayed to go on, and what it shows."""
