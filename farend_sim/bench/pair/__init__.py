"""The pair as it is wired: plant, near end and unit, where a technician stands, who sends on it."""
