"""Recordings to dance to: read, slowed down with their pitch kept, and where their counts are."""
