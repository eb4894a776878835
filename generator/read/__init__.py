"""The room that turns the files of data/ into records with places, and says every fault of shape and reference."""
