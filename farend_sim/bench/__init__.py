"""Pair, unit, meter and virtual time, coupled."""
