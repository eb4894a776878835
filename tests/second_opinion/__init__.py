"""A theorem prover's opinion of gaps and overlaps, beside that of our own boxes."""
