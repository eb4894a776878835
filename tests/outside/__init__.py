"""Checks the shipped guide against figures and verdicts that come from outside it."""
