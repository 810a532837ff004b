"""What is said, when, and what gives way: cues from the dance, words for them, the plan, the score. Counts become
frames here."""
