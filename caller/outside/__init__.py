"""What comes from outside, read within bounds: numbers, documents."""
