"""What a rail and its parts bear: by the basis for a steel section, else by a rating that says what it means; never assumed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from barrier.basis import Action
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Rail
from barrier.links.walk import Walk
from barrier.result import Check, Combination, Lack, NotChecked, Standing
from barrier.value import Value

STEELS = ("carbon steel", "stainless steel")
SYMBOLS = {"moment": ("M_d", "M_k"), "force": ("V_d", "V_k"), "line load": ("r_d", "r_k")}


def _factored(kind: str, factor: str) -> Equation:
    d, k = SYMBOLS[kind]
    return Equation(
        Symbol(d, kind), f"{factor}*{k}", symbols(f"{factor}:ratio, {k}:{kind}"), "factor of the combination on the action",
        "computed", title=f"{kind} at the level of the combination",
    )  # fmt: skip


FACTORED = {(kind, factor): _factored(kind, factor) for kind in SYMBOLS for factor in ("gamma_Q", "f_Q")}
STRESS = Equation(
    Symbol("sigma_r", "stress"), "M_d/W_r", symbols("M_d:moment, W_r:section modulus"), "elastic bending of the section",
    "computed", title="stress in the rail",
)  # fmt: skip
OF_STEEL = Equation(
    Symbol("f_r", "stress"), "f_pl", symbols("f_pl:stress"),
    "elastic bending stress this basis gives a steel plate, taken for the section of the rail; buckling is not in it",
    "computed", title="bending stress the steel of the rail may reach",
)  # fmt: skip
DOWN = {
    (kind, hangs): Equation(
        Symbol("M_k", "moment"), text, symbols(of),
        f"statics: a rail held on {'one side' if hangs else 'both sides'} of an opening",
        "computed", title="moment of the rail, pressed down",
    )
    for kind, hangs, text, of in (
        ("line load", False, "q_k*L**2/8", "q_k:line load, L:length"),
        ("line load", True, "q_k*L**2/2", "q_k:line load, L:length"),
        ("force", False, "P_k*L/4", "P_k:force, L:length"),
        ("force", True, "P_k*L", "P_k:force, L:length"),
    )
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Bears:
    """A resistance, and how a characteristic demand is brought to its level: with the factor of the combination or without, and
    by the section modulus where it is a stress."""

    resistance: Value
    combination: Combination
    with_factor: bool
    W: Value | None = None
    remark: str = ""

    def demand(self, characteristic: Value) -> Value:
        """The demand at the level of the resistance."""
        M = factored(characteristic, self.combination) if self.with_factor else characteristic
        return M if self.W is None else STRESS(M_d=M.named("M_d"), W_r=self.W)


def factored(characteristic: Value, combination: Combination) -> Value:
    """A characteristic moment, force or force per length times the factor of the combination."""
    factor = combination.factor
    _, k = SYMBOLS[characteristic.kind]
    return FACTORED[characteristic.kind, factor.symbol](**{factor.symbol: factor, k: characteristic.named(k)})


def rated(
    walk: Walk, rating: Value | None, says: tuple[str | None, str | None], combination: Combination, what: str
) -> Bears | NotChecked:  # fmt: skip
    """What something bears by its rating; a breaking or a characteristic value is no resistance yet and is asked for again.

    ``says``: its meaning, and whose it is.
    """
    meaning, reference = says
    if rating is None:
        return NotChecked(Lack.INPUT, f"what {what} holds is not given; ask its supplier, with what it means and its reference")
    if meaning in ("ultimate", "characteristic"):
        kind = "allowable" if walk.basis.strength_level == "allowable" else "design"
        a = "an ultimate value, where tests broke" if meaning == "ultimate" else "a characteristic value"
        return NotChecked(Lack.INPUT, f"the rating of {what} is {a}: how it is divided is the supplier's; ask for the {kind} one")
    allowable = combination.factor.symbol != "gamma_Q"
    if meaning == "design" and allowable:
        why = f"the rating of {what} is a design value and the basis works with allowable ones; ask for that"
        return NotChecked(Lack.INPUT, why)
    remark = f"rated, {meaning}: {reference}" + (
        "; before any factor of a limit state" if meaning == "allowable" and not allowable else ""
    )
    symbol = {"moment": "M_R", "force": "V_R", "line load": "r_R"}[rating.kind]
    return Bears(rating.named(symbol), combination, meaning == "design" or allowable, None, remark)


def bending(
    walk: Walk, entry: Rail, W: Value | None, moment: Value | None, combination: Combination, down: bool = False
) -> Bears | NotChecked:  # fmt: skip
    """What the rail bears in bending: its rated moment, else its section at the strength of its steel by the basis."""
    if moment is not None:
        return rated(walk, moment, (entry.meaning, entry.reference), combination, "the rail")
    way = ", bent down" if down else ""
    needed = {f"its section modulus{way}": W, "its yield strength": entry.yield_strength, "its material": entry.material}
    missing = [name for name, value in needed.items() if value is None]
    if missing:
        instead = "moment_down" if down else "moment"
        why = f"of the rail {', '.join(missing)}; or a moment it is rated for ({instead}); ask its supplier"
        return NotChecked(Lack.INPUT, why)
    assert W is not None and entry.yield_strength is not None
    if entry.material not in STEELS:
        why = f"a rail of {entry.material} has no strength in this basis; ask the supplier for a moment it is rated for (moment)"
        return NotChecked(Lack.BASIS, why)
    # The basis knows steel by these words; its bending stress is elastic, whatever the section.
    strength = walk.basis.plate_bending(entry.yield_strength.named("f_y"), "carbon" if entry.material == STEELS[0] else "stainless")
    if isinstance(strength, NotChecked):
        return strength
    return Bears(OF_STEEL(f_pl=strength.named("f_pl")), combination, True, W)


def moment_down(action: Action, L: Value, hangs: bool) -> Value:
    """Moment of a rail that is pressed down over an opening, characteristic."""
    kind = action.size.kind
    symbol = "q_k" if kind == "line load" else "P_k"
    return DOWN[kind, hangs](**{symbol: action.size.named(symbol), "L": L})


def for_information(check: Check) -> Check:
    """A check that informs."""
    return replace(check, standing=Standing.INFORMATION)
