"""What must hold in files beyond their single keys, each fault with its own message."""
