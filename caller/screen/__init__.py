"""What the room sees: the full screen, and plain lines."""
