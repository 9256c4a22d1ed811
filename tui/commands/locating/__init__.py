"""The sub-commands of `farend-sim locate`."""
