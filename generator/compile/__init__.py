"""Records to pack: cells, formulas, chemistry, complete and disjoint tables; and all problems of meaning."""
