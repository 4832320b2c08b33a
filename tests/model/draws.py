"""What random commands are drawn from."""

from __future__ import annotations

from hypothesis import strategies as st

from .goods import BLANKS, KITS, LOSING, NET, PARTS

BY_COUNT: dict[int, int] = {}
"""What the tool sets aside of the supply that goes by a rate, by pieces."""
MOST = 3
"""Pieces an order asks for."""

PIECES = tuple(((pattern, kit), blank) for (pattern, _), kit in KITS.items() for blank in BLANKS)
"""What finished pieces are made from: pattern and kit, and blank."""

small = st.integers(0, 4)
prices = st.integers(0, 999)
parts = st.lists(st.sampled_from(PARTS), min_size=1, max_size=4, unique=True)
losses = st.dictionaries(st.sampled_from(LOSING), st.integers(1, 2), max_size=2)


def quantities(part: str, most: int = 9) -> st.SearchStrategy[int]:
    """Thousandths: whole pieces, or tenths of a millilitre."""
    return (
        st.integers(0, most * 10).map(lambda n: 100 * n)
        if part in NET
        else st.integers(0, most).map(lambda n: 1000 * n)
    )
