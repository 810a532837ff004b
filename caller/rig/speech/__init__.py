"""Speech, rendered beforehand by a synthesiser in a process of its own, measured, and kept on a shelf."""
