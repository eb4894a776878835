"""The room that turns data/ into records with places, and says every fault of shape and reference."""
