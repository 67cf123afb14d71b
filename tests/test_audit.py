"""The audit: what is locked has hashes and licences that may be used, and what is not known is not called fine."""

from __future__ import annotations

import json
from email.message import Message

import audit
import pytest

FOUND = list(audit.parts())


def test_every_licence_may_be_used():
    assert not [part for part in FOUND if not audit.is_allowed(part["licence"])]


def test_the_list_on_the_site_is_what_is_locked():
    assert audit.PARTS.read_text("utf-8") == audit.written(FOUND), "renew it: .venv/bin/python checker/setup/audit.py --write"
    assert {(part["name"], part["use"]) for part in FOUND} >= {("pydantic", "the checker"), ("mkdocs", "the site and its build"), ("pyodide", "the page")}


def test_everything_has_a_hash():
    assert list(audit.without_hash()) == []


@pytest.mark.parametrize(
    ("licence", "allowed"),
    [
        ("MIT", True), ("MIT AND PSF-2.0", True), ("GPL-3.0-only OR MIT", True), ("MPL-2.0 AND (MIT OR NCSA)", True),
        ("GPL-3.0-only", False), ("MIT AND GPL-3.0-only", False), ("(MIT OR NCSA) AND NCSA", False), ("unknown", False), ("", False), ("Apache-2.0 WITH x", False),
    ],
)  # fmt: skip
def test_expressions_of_licences(licence, allowed):
    assert audit.is_allowed(licence) is allowed


class Package:
    """Metadata as a package brings it."""

    def __init__(self, fields, texts=None):
        self.metadata, self.read_text = Message(), (texts or {}).get
        for name, value in fields:
            self.metadata[name] = value


@pytest.mark.parametrize(
    ("package", "licence"),
    [
        (Package([("License-Expression", "MIT OR Apache-2.0"), ("License", "GPL")]), "MIT OR Apache-2.0"),
        (Package([("License", "MIT License\n\nCopyright …")]), "MIT"),
        (Package([("License", "see file"), ("Classifier", "License :: OSI Approved :: BSD License")]), "BSD"),
        (Package([("Classifier", "License :: OSI Approved :: MIT License"), ("Classifier", "License :: Other/Proprietary License")]), "MIT AND Other/Proprietary License"),
        (Package([("License-File", "LICENSE")], {"licenses/LICENSE": "MIT License\n\nCopyright …"}), "MIT"),
        (Package([]), "unknown"),
    ],
)
def test_a_licence_is_read_where_it_is_stated(package, licence):
    assert audit.licence_of(package) == licence


@pytest.mark.parametrize(
    ("answer", "code", "said"),
    [
        ({"dependencies": [{"name": "a", "version": "1", "vulns": []}]}, audit.FINE, "no published weakness in 1"),
        ({"dependencies": [{"name": "a", "version": "1", "vulns": [{"id": "X-1", "fix_versions": ["2"]}]}]}, audit.WRONG, "a 1: X-1, mended in 2"),
        ({"dependencies": [{"name": "a", "version": "1", "vulns": []}, {"name": "b", "skip_reason": "not found"}]}, audit.CANNOT_TELL, "know nothing of 1 of 2"),
        ("", audit.CANNOT_TELL, "cannot be reached"),
    ],
)
def test_an_advisory_that_cannot_be_had_is_no_clean_bill(capsys, answer, code, said):
    assert audit.judge_python(json.dumps(answer) if answer else "") == code
    assert said in capsys.readouterr().out


@pytest.mark.parametrize(
    ("answer", "code"),
    [({"vulnerabilities": {}}, audit.FINE), ({"vulnerabilities": {"a": {"range": "<2", "severity": "high"}}}, audit.WRONG), ({"error": {}}, audit.CANNOT_TELL)],
)
def test_npms_answer(capsys, answer, code):
    assert audit.judge_npm(json.dumps(answer)) == code
    assert capsys.readouterr().out
