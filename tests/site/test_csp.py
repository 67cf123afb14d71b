"""Every page carries a policy that allows this site's files and, by their hashes, the theme's inline code, and nothing else."""

from __future__ import annotations

import base64
import hashlib

import pytest

from boardwright.site.csp import policy, with_policy
from boardwright.site.unfit import Unfit
from built_site import Document, Site


def pages(site: Site) -> dict[str, Document]:
    """All of them, also the theme's page for addresses that lead nowhere, what others frame, and the books."""
    others = [site.folder / "404.html", *site.folder.glob("frames/*.html"), *site.folder.glob("books/*.html")]
    return {**site.pages, **{str(file.relative_to(site.folder)): Document(file.read_text("utf-8")) for file in others}}


def policy_of(page: Document) -> dict[str, list[str]]:
    (meta,) = (each for each in page.all("meta") if (each.attributes.get("http-equiv") or "").lower() == "content-security-policy")
    return {name: sources for name, *sources in (part.split() for part in (meta.attributes["content"] or "").split(";"))}


def test_every_page_has_one_before_anything_that_it_is_to_govern(site: Site):
    for address, page in pages(site).items():
        policy_of(page)
        ahead = [each.tag for each in page.elements]
        place = next(place for place, each in enumerate(page.elements) if each.attributes.get("http-equiv") == "Content-Security-Policy")
        assert set(ahead[:place]) <= {"html", "head", "meta"}, address


def test_it_allows_this_site_and_no_other(site: Site):
    for address, page in pages(site).items():
        allowed = policy_of(page)
        assert allowed["default-src"] == ["'none'"], address
        for name, sources in allowed.items():
            plain = [source for source in sources if not source.startswith("'sha256-")]
            assert set(plain) <= {"'self'", "'none'"} | ({"data:"} if name == "img-src" else set()), f"{address}: {name}"
        # These do not fall back on default-src, and a base or a form could send readers and their words elsewhere.
        assert allowed["base-uri"] == allowed["form-action"] == ["'none'"], address


def test_what_stands_inline_is_allowed_by_its_hash_and_nothing_more_is(site: Site):
    for address, page in pages(site).items():
        allowed = policy_of(page)
        for tag in ("script", "style"):
            inline = [each for each in page.all(tag) if not each.attributes.get("src") and each.attributes.get("type") != "application/json"]
            # As published in CSP level 3, section 6.7.2.3: the digest of the element's text, in base64.
            due = {f"'sha256-{base64.b64encode(hashlib.sha256(each.text.encode()).digest()).decode()}'" for each in inline}
            assert {source for source in allowed[f"{tag}-src"] if source.startswith("'sha256-")} == due, f"{address}: {tag}"


def test_no_element_is_styled_by_an_attribute(site: Site):
    styled = [f"{address}: <{each.tag}>" for address, page in pages(site).items() for each in page.elements if "style" in each.attributes]
    assert styled == []


HEAD = '<!doctype html><html><head><meta charset="utf-8">'


def test_the_digest_is_the_published_one():
    """The example of CSP level 3, section 8.3 ("hash usage for elements"): ``alert('Hello, world.');``."""
    assert "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='" in policy(f"{HEAD}<script>alert('Hello, world.');</script>")


def test_data_and_comments_need_no_hash():
    quiet = f'{HEAD}<script type="application/json">{{"a": 1}}</script><!-- <script>old()</script> --><script src="a.js"></script>'
    assert "sha256" not in policy(quiet)


@pytest.mark.parametrize("wrong", ['<p style="color: red">', "<a onclick='go()'>", '<svg\n onload="x()">'])
def test_code_and_style_in_attributes_are_refused_when_the_site_is_built(wrong: str):
    with pytest.raises(Unfit, match="allows no `"):
        with_policy(HEAD + wrong)


def test_a_page_without_a_place_for_it_is_refused():
    with pytest.raises(Unfit, match="no place"):
        with_policy("<!doctype html><html><head><title>?</title>")


def test_a_frame_is_allowed_where_a_page_has_one():
    assert "frame-src 'none'" in policy(HEAD)
    assert "frame-src 'self'" in policy(f'{HEAD}<iframe src="../"></iframe>')
