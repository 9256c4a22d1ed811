"""The far-end unit as firmware: pure, with no line, no samples and no clock."""
