"""The step sheet, read: counts, facings, steps, parts, and what the check finds. Knows nothing of sound or screens."""
