"""What waits in a search."""

from __future__ import annotations

from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.search.leaf import Leaf, leaf_of
from inventory.buying.search.node import Node
from inventory.buying.search.queue import Queue

from .truth import of_family, picks

BOUND, TARGET = 5, 9


def leaf() -> Leaf:
    """Some leaf, of a bound below the target."""
    one = of_family("one group", 6, 0, 4)
    at = [0] * len(Bounds(one.problem).problem.groups)
    found = leaf_of(one.problem, [mode for mode, _ in picks(one.problem, one.best)], at, at)
    found.bound = BOUND
    return found


def test_a_leaf_put_off_outlives_a_new_beginning_while_it_has_its_turn() -> None:
    """The search that begins again takes it for closed: only the queue still knows it."""
    queue, one = Queue(), leaf()
    one.effort = 1
    queue.put_off(one)
    assert queue.left(TARGET)
    queue.begin_again()
    assert queue.least() is None
    assert list(queue.bounds()) == [BOUND]
    assert queue.left(TARGET)
    assert queue.pop() is one
    assert not queue.left(TARGET)


def test_nodes_and_other_leaves_are_forgotten() -> None:
    """They lie in the whole space, from which it begins again."""
    queue = Queue()
    queue.push(leaf())
    queue.push(Node((), (), (), [], BOUND))
    queue.begin_again()
    assert not queue.left(TARGET)


def test_the_lowest_leaf_is_the_most_hopeful_tried_or_waiting() -> None:
    """By turns, none above what is enough, and no node."""
    queue, ones = Queue(), [leaf() for _ in range(3)]
    for at, one in enumerate(ones):
        one.bound = BOUND + at
    queue.push(ones[1])
    queue.keep_tried(ones[0])
    queue.keep_tried(ones[2])
    queue.push(Node((), (), (), [], 1))
    assert [queue.hopeful_below(BOUND + 2) for _ in range(3)] == [ones[0], ones[1], None]
