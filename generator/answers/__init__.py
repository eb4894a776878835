"""Turns answers as people type them into sets, and application files into applications."""
