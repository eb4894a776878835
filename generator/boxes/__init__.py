"""Sets on axes and boxes of them: meet, split, gaps, overlaps, merge, and their words. Imports nothing of ours."""
