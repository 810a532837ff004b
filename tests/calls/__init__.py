"""Tests of the calls."""
