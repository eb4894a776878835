"""What a pack, its cases and its examples show about themselves."""
