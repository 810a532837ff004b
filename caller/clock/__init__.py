"""Counts to frames and back. Knows nothing of dances or devices."""
