"""Gives back what z3 says of boxes on axes: where no box is, and where two are.

Numbers are reals with rational literals, choices are whole numbers, and whether a number is absent is one boolean more.
Nothing of our own geometry is used: the prover reads spans and ids as they stand in the sets.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

import z3

from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, Span


class Prover:
    """One space, asked many times. Every question is a fresh frame of one solver."""

    def __init__(self, axes: Sequence[Axis]) -> None:
        self.axes = tuple(axes)
        self.variables = [z3.Int(f"c{at}") if isinstance(axis, ChoiceAxis) else z3.Real(f"x{at}")
                          for at, axis in enumerate(axes)]
        self.absent = [z3.Bool(f"absent{at}") for at in range(len(axes))]
        self.solver = z3.SolverFor("QF_LIRA")
        self.solver.add(*(self._domain(at) for at in range(len(axes))))

    def box(self, box: Box) -> z3.BoolRef:
        """The condition that a point lies in the box."""
        return z3.And([self._member(at, one) for at, one in enumerate(box)] or [z3.BoolVal(True)])

    def possible(self, *conditions: z3.BoolRef) -> bool:
        """Whether some point of the space meets all conditions. An answer of `unknown` is an error."""
        self.solver.push()
        self.solver.add(*conditions)
        answer = self.solver.check()
        self.solver.pop()
        assert answer != z3.unknown
        return answer == z3.sat

    def gaps_agree(self, boxes: Iterable[Box], gaps: Iterable[Box]) -> bool:
        """Whether the gaps are exactly the points that lie in no box, and each gap holds a point."""
        covered, left = self._any(boxes), [self.box(gap) for gap in gaps]
        return not self.possible(covered == z3.Or([z3.BoolVal(False), *left])) and all(map(self.possible, left))

    def overlaps_agree(self, boxes: Sequence[Box], found: Sequence[tuple[int, int, Box]]) -> bool:
        """Whether these pairs, and no others, have points in common, exactly those of the pair's box."""
        inside = [self.box(box) for box in boxes]
        pairs = {(i, j) for i, j, _ in found}
        others = [z3.And(inside[i], inside[j]) for i in range(len(boxes)) for j in range(i + 1, len(boxes))
                  if (i, j) not in pairs]
        told = [z3.And(inside[i], inside[j]) != self.box(shared) for i, j, shared in found]
        return (len(pairs) == len(found) and not self.possible(z3.Or([z3.BoolVal(False), *others, *told]))
                and all(self.possible(inside[i], inside[j]) for i, j in pairs))

    def at_most_one(self, boxes: Iterable[Box]) -> bool:
        """Whether no point lies in two of the boxes: one question, however many pairs there are."""
        inside = [self.box(box) for box in boxes]
        return len(inside) < 2 or not self.possible(z3.AtLeast(*inside, 2))

    # private

    def _any(self, boxes: Iterable[Box]) -> z3.BoolRef:
        return z3.Or([z3.BoolVal(False), *map(self.box, boxes)])

    def _domain(self, at: int) -> z3.BoolRef:
        axis, variable = self.axes[at], self.variables[at]
        if isinstance(axis, ChoiceAxis):
            return z3.And(variable >= 0, variable < len(axis.ids))
        within = z3.And(variable >= _exact(axis.low), variable <= _exact(axis.high))
        return within if axis.may_be_absent else z3.And(within, z3.Not(self.absent[at]))

    def _member(self, at: int, one: AxisSet) -> z3.BoolRef:
        axis, variable = self.axes[at], self.variables[at]
        if isinstance(one, Choices):
            assert isinstance(axis, ChoiceAxis)
            return z3.Or([z3.BoolVal(False), *(variable == axis.ids.index(id_) for id_ in one.ids)])
        spans = z3.Or([z3.BoolVal(False), *(_within(variable, span) for span in one.spans)])
        return z3.If(self.absent[at], z3.BoolVal(one.absent), spans)


# private

def _within(variable: z3.ArithRef, span: Span) -> z3.BoolRef:
    low, high = _exact(span.low), _exact(span.high)
    return z3.And(variable >= low if span.low_in else variable > low,
                  variable <= high if span.high_in else variable < high)


def _exact(number: float) -> z3.RatNumRef:
    fraction = Fraction(number)
    return z3.Q(fraction.numerator, fraction.denominator)
