"""Tests of units."""
