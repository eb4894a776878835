"""Gives back the pages of the guide as finished HTML, before any site generator sees them."""
