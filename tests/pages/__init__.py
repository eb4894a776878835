"""The finished pages read back, and held against both engines."""
