"""Near-end meters, one file a kind."""
