"""Tests of boxes."""
