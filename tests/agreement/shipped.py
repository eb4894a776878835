"""Gives back work on the shipped pack, the base with its overlay, done by all processors: each process has the pack ready and one node
process."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from typing import TypeVar

from generator.evaluate.prepared import Prepared, prepare
from generator.pack.model import Pack
from tests import shipped
from tests.agreement.limits import Limits, limits_of
from tests.agreement.summary import Engine

Result = TypeVar("Result")


@dataclass(frozen=True)
class Desk:
    """What a process works with."""

    pack: Pack
    prepared: Prepared
    limits: Limits
    engine: Engine


def desk() -> Desk:
    """This process's desk; the first call compiles the shipped data."""
    return _desk(os.getpid())


def share_out(work: Callable[[range], Result], count: int, portion: int) -> Iterator[Result]:
    """What `work` gives for the numbers from 0 to `count`, a portion at a time, on all processors."""
    portions = [range(start, min(start + portion, count)) for start in range(0, count, portion)]
    # What the engine makes holds no circles: without the search for them it is a fifth faster.
    with ProcessPoolExecutor(max_workers=os.cpu_count(), initializer=gc.disable) as pool:
        yield from pool.map(work, portions)


# private

@cache
def _desk(process: int) -> Desk:
    """One desk per process: a forked one must not talk to its parent's node process."""
    pack = _pack()
    engine = Engine()
    engine.take(pack)
    return Desk(pack, prepare(pack), limits_of(pack), engine)


@cache
def _pack() -> Pack:
    return shipped.whole()[0]
