"""A person at the bench: hands, ears, logbook, and where their files are."""
