"""Tests of tests."""
