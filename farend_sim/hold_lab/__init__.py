"""The hold lab: how long a hold must be."""
