"""The screens: rooms to work in, help and tour, and questions put in front of them."""
