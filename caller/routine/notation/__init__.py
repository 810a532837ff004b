"""A sheet's text to a :class:`~caller.routine.parts.Routine` and back. Reading never raises on any text: findings come
beside the result."""
