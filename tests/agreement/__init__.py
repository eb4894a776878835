"""Tests that the two engines agree, and that both mean what the design's words say."""
