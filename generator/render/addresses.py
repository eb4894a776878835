"""Gives back the address of every record: which page shows it, and under which anchor."""

from __future__ import annotations

INPUTS = "inputs/"
RULES = "rules/"
BASIS = "basis/"
FINDINGS = "findings/"
COMPANY = "company/"
CONCESSIONS = "concessions/"
CASES = "cases/"
MEDIA = "media/"
TABLES = "tables/"
FORMULAS = "formulas/"
SERIES = "figures/"
SOURCES = "sources/"
PACK_FILE = "assets/pack.json"
TEXTS_FILE = "assets/texts.json"

# A size has no properties but its bore: one page shows them all.
ON_ONE_PAGE = ("size",)

_FOLDERS = {
    "principle": "principles",
    "size": "sizes",
    "liner": "liners",
    "electrode_material": "electrode-materials",
    "electrode_form": "electrode-forms",
    "earthing": "earthing",
    "ring_material": "ring-materials",
    "connection": "connections",
    "rating": "flange-ratings",
    "gasket": "gaskets",
}


def decision_index(decision: str) -> str:
    """The page that lists the candidates of a decision."""
    return _FOLDERS.get(decision, decision.replace("_", "-")) + "/"


def candidate(decision: str, item: str) -> str:
    if decision in ON_ONE_PAGE:
        return f"{decision_index(decision)}#{decision}-{item}"
    return f"{decision_index(decision)}{item}/"


def guidance(decision: str) -> str:
    """The prose page that teaches a decision."""
    return f"choosing/{decision}/"


def medium(identifier: str) -> str:
    return f"{MEDIA}{identifier}/"


def table(identifier: str) -> str:
    return f"{TABLES}{identifier}/"


def formula(identifier: str) -> str:
    return f"{FORMULAS}{identifier}/"


def series(identifier: str) -> str:
    return f"{SERIES}{identifier}/"


def source(identifier: str) -> str:
    return f"{SOURCES}{identifier}/"


def case(identifier: str) -> str:
    return f"{CASES}{identifier}/"


def input_line(identifier: str) -> str:
    return f"{INPUTS}#input-{identifier}"


def rule_anchor(rule: str) -> str:
    return f"rule-{rule}"


def uri_of(address: str) -> str:
    """The file of a page's address: `liners/pfa/` is `liners/pfa.md`."""
    return address.rstrip("/") + ".md"


def index_uri(address: str) -> str:
    """The file of the page that opens a folder: `liners/` is `liners/index.md`."""
    return f"{address}index.md"


def target(address: str) -> str:
    """A link to an address, as bodies write it."""
    return f"page:{address}"
