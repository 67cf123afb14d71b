"""The site, built once for all tests of this folder."""

import pytest

from built_site import Site, build


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    return build(tmp_path_factory.mktemp("site"))
