"""Tests of the pages before a site generator sees them."""
