"""Records to pack: cells, expressions, tables made complete and disjoint, chemistry, and all problems of meaning."""
