"""Where files go, and how: whole or not there, as private as they should be, and nothing left behind."""
