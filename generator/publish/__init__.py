"""Gives back the site: pages and assets put where MkDocs, or any other generator, expects them."""
