"""The holds of a whole job."""
