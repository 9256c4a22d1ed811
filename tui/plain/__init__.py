"""Work without a screen: lines typed, lines printed."""
