"""The site as a release carries it."""

from __future__ import annotations

import zipfile

import release

from built_site import Site


def test_the_bundle_is_the_site_and_equal_files_make_equal_bytes(site: Site, tmp_path):
    first, second = tmp_path / "first.zip", tmp_path / "second.zip"
    for archive in (first, second):
        release.zip_site(site.folder, archive)
    assert first.read_bytes() == second.read_bytes() and release.differing(first, second) == []
    with zipfile.ZipFile(first) as bundle:
        names = set(bundle.namelist())
        assert {"index.html", "checker/index.html", "404.html", "changes/index.html"} <= names
        assert names == {path.relative_to(site.folder).as_posix() for path in site.folder.rglob("*") if path.is_file()}
        assert all(bundle.read(name) == (site.folder / name).read_bytes() for name in names)


def test_a_difference_is_named(tmp_path):
    archives = []
    for text in ("a", "b"):
        (tmp_path / text).mkdir()
        (tmp_path / text / "same.txt").write_text("same")
        (tmp_path / text / "other.txt").write_text(text)
        archives.append(tmp_path / f"{text}.zip")
        release.zip_site(tmp_path / text, archives[-1])
    assert release.differing(*archives) == ["other.txt"]
