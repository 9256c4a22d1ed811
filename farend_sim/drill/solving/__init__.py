"""The expert at work: on a pair at rest, as steps for the bench, on what somebody else read."""
