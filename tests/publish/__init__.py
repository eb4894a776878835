"""Tests of the site as it is written and built."""
