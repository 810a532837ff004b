"""Orders, pedal gestures, running state: tables, pure. Knows only the clock."""
