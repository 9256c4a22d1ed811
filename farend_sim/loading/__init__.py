"""A file's text to checked objects: lines, key paths, faults and their messages."""
