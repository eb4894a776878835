"""Measurements, side by side in one run: `.venv/bin/python -m tests.bench`. Nothing is asserted in seconds."""
