"""Options and fixtures that all tests share."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--rewrite",
        action="store_true",
        help="write expected files anew from what is made now; review the difference like code",
    )


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Whether expected files are to be written anew."""
    return bool(request.config.getoption("--rewrite"))
