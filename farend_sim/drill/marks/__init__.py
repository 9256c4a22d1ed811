"""Marks: what each is given for, errors, the verdict."""
