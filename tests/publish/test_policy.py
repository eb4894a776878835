"""The content policy of a page allows its own scripts by what they say, and nothing else."""

from __future__ import annotations

import base64
import hashlib
import re

from generator.publish.policy import with_policy

PAGE = (
    '<!doctype html><html><head><meta charset="utf-8"><script>run()</script>'
    '<script id="c" type="application/json">{}</script>'
    '<script type="module" src="a.js"></script></head></html>'
)


def scripts_allowed(html: str) -> str:
    return re.search(r"script-src ([^;]*);", html).group(1)


def test_policy_names_the_hash_of_each_inline_script_and_of_no_data():
    digest = base64.b64encode(hashlib.sha256(b"run()").digest()).decode()
    assert scripts_allowed(with_policy(PAGE)) == f"'self' 'sha256-{digest}'"


def test_policy_stands_before_everything_it_rules():
    html = with_policy(PAGE)
    assert html.index("Content-Security-Policy") < html.index("<script")


def test_policy_forbids_inline_styles_and_other_hosts():
    html = with_policy(PAGE)
    assert "unsafe-inline" not in html and "default-src 'none'" in html and "connect-src 'self'" in html
