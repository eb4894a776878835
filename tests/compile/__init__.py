"""Tests of compile."""
