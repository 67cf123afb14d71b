"""The site, for all tests of this folder."""

import pytest

from built_site import Site, built


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    return built(tmp_path_factory.mktemp("site"))
