"""Clips, count track, mix: arrays in, arrays out, places in frames. Knows nothing of counts, dances or devices."""
