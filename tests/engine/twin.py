"""Gives back what the JavaScript engine answers: one long-lived node process, one JSON line per call."""

from __future__ import annotations

import json
import math
import subprocess
from dataclasses import asdict, is_dataclass
from pathlib import Path

RUNNER = Path(__file__).parent / "runner.mjs"


class Twin:
    """The engine's functions by module and name. Numbers, texts, lists and dataclasses go in."""

    def __init__(self) -> None:
        self._node = subprocess.Popen(["node", str(RUNNER)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                      text=True, encoding="utf-8")

    def call(self, module: str, name: str, *args: object) -> object:
        """What `name` of `engine/<module>.js` returns; a thrown error fails the test with its stack."""
        return self._ask({"module": module, "call": name, "args": [plain(arg) for arg in args]})

    def batch(self, module: str, name: str, calls: list[tuple[object, ...]]) -> list[object]:
        """The same for many calls in one line, which is what makes thousands of comparisons cheap."""
        return self._ask(
            {"module": module, "call": name, "batch": [[plain(arg) for arg in args] for args in calls]}
        )

    def keep(self, module: str, name: str, kept: str, *args: object) -> dict[str, str]:
        """Calls and leaves the result in the engine; what comes back stands for it in later calls."""
        self._ask({"module": module, "call": name, "args": [plain(arg) for arg in args], "keep": kept})
        return {"$kept": kept}

    def hold(self, kept: str, value: object) -> dict[str, str]:
        """Leaves a value in the engine, so that calls need not send it; what comes back stands for it."""
        self._ask({"module": "model", "call": "$hold", "args": [plain(value)], "keep": kept})
        return {"$kept": kept}

    def exports(self, module: str) -> list[str]:
        """The exported names of a module in the order of its text."""
        return self._ask({"module": module, "call": "$exports"})

    def close(self) -> None:
        self._node.stdin.close()
        self._node.wait(timeout=10)

    def _ask(self, asked: dict[str, object]) -> object:
        self._node.stdin.write(json.dumps(asked, allow_nan=False) + "\n")
        self._node.stdin.flush()
        answer = json.loads(self._node.stdout.readline())
        if "error" in answer:
            raise AssertionError(f"the JavaScript engine failed: {answer['error']}")
        return answer["value"]


def plain(value: object) -> object:
    """The value as JSON can say it: dataclasses as records, tuples as lists, large integers as BigInts."""
    if is_dataclass(value):
        value = asdict(value)
    if isinstance(value, float) and math.isinf(value):
        return {"$infinite": 1 if value > 0 else -1}
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= 2 ** 53:
        return {"$big": str(value)}
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(inner) for inner in value]
    return value
