"""The only folder that acts: loudspeaker, pedal, speech and their cache."""
