"""What a pencil says of the screws of a mount: a tension row against a block of bearing, and the naive longest lever arm.

These stand beside the contact model and decide nothing. The block is as deep as the bed's strength needs it, so it is
near where the bed yields, and gives too little tension where it does not.
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.mount_forces import MountForces
from barrier.result import NotChecked
from barrier.value import Numerical, Value

BLOCK = "hand check: tension row against a rectangular block of bearing at the far edge of the plate"
HAND_MOMENT = Equation(
    Symbol("M_hand", "moment"),
    "n_t*R*(e_t - n_t*R/(2*f_bed*b))",
    symbols("n_t:count, R:force, e_t:length, f_bed:stress, b:length"),
    BLOCK,
    "computed",
    title="moment by tension row and bearing block",
)
ROW_TENSION = Equation(
    Symbol("T_row", "force"),
    "f_bed*b*(e_t - sqrt(e_t**2 - 2*M_Ed/(f_bed*b)))",
    symbols("f_bed:stress, b:length, e_t:length, M_Ed:moment"),
    BLOCK,
    "computed",
    title="tension of the whole row, on the low side: a block at the very edge has the longest arm",
)
ONE_SCREW = Equation(
    Symbol("T_hand", "force"),
    "T_row/n_t",
    symbols("T_row:force, n_t:count"),
    "hand check: the row shared by its screws",
    "computed",
    title="tension of one screw of the row",
)
NAIVE_TENSION = Equation(
    Symbol("T_naive", "force"),
    "M_Ed/(n_t*e_t)",
    symbols("M_Ed:moment, n_t:count, e_t:length"),
    "naive: lever arm from the far edge to the row; always too low",
    "computed",
    title="tension by the longest lever arm",
)
ROW = Equation(
    Symbol("e_s", "length"), "abs(e)", symbols("e:length"), "geometry: tension row from the plate's centre", "computed"
)  # fmt: skip
ARM = Equation(
    Symbol("e_t", "length"),
    "e_s + a_pl/2",
    symbols("e_s:length, a_pl:length"),
    "geometry: tension row from the far edge of the plate",
    "computed",
)


def moment(handed: MountForces, R: Value) -> Value | None:
    """Moment of the outer row at its resistance ``R`` of one screw [N]; None where the bed has no known strength [N mm]."""
    if isinstance(handed.bed, NotChecked):
        return None
    along = handed.model.mount.plate.along.named("b")
    return HAND_MOMENT(n_t=_number(handed), R=R, e_t=arm(handed.model), f_bed=handed.bed.strength, b=along)


def row_tension(handed: MountForces) -> Value | None:
    """Tension of the whole outer row at the largest moment [N]; None where no block of bearing can balance that."""
    if isinstance(handed.bed, NotChecked):
        return None
    f_bed, b = handed.bed.strength.named("f_bed"), handed.model.mount.plate.along.named("b")
    e_t = arm(handed.model)
    if 2.0 * handed.M_worst.at(0) >= float(f_bed.x) * float(b.x) * float(e_t.x) ** 2:
        return None
    return ROW_TENSION(f_bed=f_bed, b=b, e_t=e_t, M_Ed=_largest(handed))


def screw_tension(handed: MountForces) -> Value | None:
    """Tension of one screw of the outer row at the largest moment [N], as :func:`row_tension`."""
    row = row_tension(handed)
    return None if row is None else ONE_SCREW(T_row=row, n_t=_number(handed))


def naive_tension(handed: MountForces) -> Value:
    """Tension of one screw of the outer row by the longest lever arm there is [N]: always too low."""
    return NAIVE_TENSION(M_Ed=_largest(handed), n_t=_number(handed), e_t=arm(handed.model))


def no_pull() -> Value:
    """What no screw pulls at [N]."""
    return Value(0.0, "force", Numerical("no screw of the mount pulls there", "counted", "geometry of the job"))


def _largest(handed: MountForces) -> Value:
    return Value(handed.M_worst.at(0), "moment", handed.M_worst.origin, "M_Ed")


def _number(handed: MountForces) -> Value:
    """Screws of the outer row that stand in timber, one at least."""
    model = handed.model
    far = max(model.screws, key=lambda s: abs(float(s.y.x)))
    count = sum(1 for s in model.screws if s.piece is not None and float(s.y.x) * float(far.y.x) > 0)
    return counted(f"mounts.{model.name}", max(count, 1), "screws in the tension row").named("n_t")


def arm(model: MountModel) -> Value:
    """Outer row of the screws of a mount from the far edge of its plate [mm]; it must have screws."""
    far = max(model.screws, key=lambda s: abs(float(s.y.x)))
    return ARM(e_s=ROW(e=far.y.named("e")), a_pl=model.mount.plate.across.named("a_pl"))
