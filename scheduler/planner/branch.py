"""Branch and bound over the gathers of a component: each is free for all, or closed, or still paid in parts.

At given prices the cohorts are independent, so a node's bound is the sum of their least plans; where these plans pay
in full for every gather that they use, the node is solved. Ties are decided on the way.
"""

from collections.abc import Sequence

from msgspec import Struct

from scheduler.planner.component import Component, Part
from scheduler.planner.states import Found, Work
from scheduler.planner.ties import list_key

Rest = tuple[int, list[float]]


class Node(Struct, frozen=True):
    """Gathers decided, and the least plan of each cohort under these decisions."""

    opened: frozenset[int]
    closed: frozenset[int]
    found: tuple[Found, ...]
    bound: int


class Best(Struct):
    """The best choice known: its cost, days moved and list, and its plans."""

    cost: int
    rest: Rest | None
    plans: list[int]


class Branch:
    """A search over nodes, depth first; `bound` is proved whether or not it was finished.

    bounds: proved, of each cohort's cost at the component's split.
    """

    def __init__(self, component: Component, plans: Sequence[int], bounds: Sequence[int], ties: bool) -> None:
        self.component = component
        self.ties = ties
        self.best = Best(component.cost(plans), self._rest(plans) if ties else None, list(plans))
        self.bounds = list(bounds)
        self.finished = False
        self._open = 0

    @property
    def bound(self) -> int:
        """A proved bound on the cost of the component."""
        return self.best.cost if self.finished else max(self._open, sum(self.bounds))

    def run(self, work: Work) -> None:
        """Searches until everything is decided or the work runs out."""
        root = self._root(work)
        if root is None:
            self.finished = work.left >= 0
            return
        stack = [root]
        while stack:
            node = stack.pop()
            if not self._may_be_better(node):
                continue
            children = self._children(node, work)
            if work.left < 0:
                self._open = min(known.bound for known in [*stack, node])
                return
            stack += children
        self.finished = True

    def _root(self, work: Work) -> Node | None:
        found = []
        for c, (part, split) in enumerate(zip(self.component.parts, self.component.split, strict=True)):
            most = self.best.cost - sum(self.bounds) + self.bounds[c]
            own = part.least(split, most, work, ties=self.ties, known=self.best.plans[c], bound=self.bounds[c])
            if own is None:
                return None
            self.bounds[c] = own.cost
            found.append(own)
        return Node(frozenset(), frozenset(), tuple(found), sum(own.cost for own in found))

    def _may_be_better(self, node: Node) -> bool:
        """Whether the node can hold a better choice than the best known; its own plans are tried first."""
        self.offer([own.plan for own in node.found])
        bound = self.component.scale.lifted(node.bound)
        if bound != self.best.cost:
            return bound < self.best.cost
        if not self.ties:
            return False
        return self.best.rest is None or self._rest([own.plan for own in node.found]) < self.best.rest

    def offer(self, plans: list[int]) -> None:
        """Keeps the plans where they are better than the best known."""
        cost = self.component.cost(plans)
        rest = self._rest(plans) if self.ties and cost <= self.best.cost else None
        if cost < self.best.cost or (rest is not None and (self.best.rest is None or rest < self.best.rest)):
            self.best = Best(cost, rest, plans)

    def _rest(self, plans: Sequence[int]) -> Rest:
        """Days moved and the list of doses."""
        parts = self.component.parts
        moved = sum(part.moved(plan) for part, plan in zip(parts, plans, strict=True))
        ranks = sorted(rank for part, plan in zip(parts, plans, strict=True) for rank in part.ranks(plan))
        return moved, list_key(ranks)

    def _children(self, node: Node, work: Work) -> list[Node]:
        """The node with one gather decided either way; the more promising last."""
        gather = self.component.least_paid([own.plan for own in node.found], node.opened, short=1)
        if gather is None:
            return []
        children = []
        for opened, closed in (
            (node.opened, node.closed | {gather}),
            (node.opened | {gather}, node.closed),
        ):
            child = self._child(node, gather, opened, closed, work)
            if work.left < 0:
                return []
            if child is not None:
                children.append(child)
        return sorted(children, key=lambda child: -child.bound)

    def _child(
        self, node: Node, gather: int, opened: frozenset[int], closed: frozenset[int], work: Work
    ) -> Node | None:
        found = list(node.found)
        bound = node.bound + (self.component.price(gather) if gather in opened else 0)
        for c, part in enumerate(self.component.parts):
            split = self.component.split[c]
            if gather not in part.used:
                continue
            if gather in closed and gather not in part.gathers(found[c].plan):
                continue
            if gather in opened and not split.get(gather, 0):
                continue
            prices = split | dict.fromkeys(opened & part.used, 0)
            own = self._least(part, prices, found, c, bound, opened, closed, work)
            if own is None:
                return None
            bound += own.cost - found[c].cost
            found[c] = own
        return Node(opened, closed, tuple(found), bound)

    def _least(
        self,
        part: Part,
        prices: dict[int, int],
        found: list[Found],
        c: int,
        bound: int,
        opened: frozenset[int],
        closed: frozenset[int],
        work: Work,
    ) -> Found | None:
        """The least plan of one cohort in a child, where the child can still be better than the best known."""
        most = self.best.cost - (bound - found[c].cost)
        for k in range(c + 1, len(found)):
            if opened:
                most += self._refund(k, opened)
        return part.least(prices, most, work, closed & part.used, self.ties, found[c].plan)

    def _refund(self, k: int, opened: frozenset[int]) -> int:
        """How much less cohort k could cost once the gathers are free: no more than what it paid of them."""
        return sum(self.component.split[k].get(gather, 0) for gather in opened)
