"""The scheme lab: control codes examined, and carried away, before anything is built."""
