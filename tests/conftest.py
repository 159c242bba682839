"""One cache folder for the programs that the tests start, so that not each verifies all anew."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

CACHE = "XDG_CACHE_HOME"

# The same examples in every run, so that a run fails for what was changed and for nothing else;
# `pytest --hypothesis-profile=default` searches anew.
settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")


@pytest.fixture(scope="session", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The cache folder of this run, shared by its workers; the user's own is left alone.

    What is kept there is proved in test_memo, with folders of its own.
    """
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(CACHE, str(folder / "cache"))
        yield
