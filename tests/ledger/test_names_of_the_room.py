"""What the room offers is found in the module it lives in."""

from __future__ import annotations

import pytest

from inventory import ledger
from inventory.ledger import fifo


def test_each_name_comes_from_its_home() -> None:
    """Asked for as at the first time, before it is remembered; what nobody offers is no attribute."""
    assert ledger.__getattr__("draw") is fifo.draw
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        ledger.__getattr__("nothing")
