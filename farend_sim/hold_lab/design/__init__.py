"""One hold designed."""
