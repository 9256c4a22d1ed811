"""The control channel: whatever has samples."""
