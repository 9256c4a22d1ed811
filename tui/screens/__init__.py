"""The screens: the bench itself, help, and a question with a few answers."""
