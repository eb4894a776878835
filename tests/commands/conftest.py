"""Lets the commands read and compile a folder once in a process, as long as none of its files changes."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="session", autouse=True)
def always_read_once(read_once: None) -> None:
    """These tests run a hundred commands, and one reads the shipped data in some seconds."""
