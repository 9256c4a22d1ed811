"""Whatever a person touches in a terminal."""
