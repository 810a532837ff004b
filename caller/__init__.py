"""A live teaching caller for line-dance classes."""
