"""Sets on axes and boxes of them: gaps, overlaps, merging, and their words. Imports nothing of ours."""
