"""What a family of codes is asked about: glass, screws, timber, what is driven into its ends, and actions on the barrier."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from barrier.basis.wind import Strip
from barrier.result import Combination, NotChecked
from barrier.value import Value

Answer = Value | NotChecked
Nature = Literal["barrier", "wind"]
Location = Literal["face", "edge"]
ActionKind = Literal["line", "point", "pressure", "patch", "along", "vertical"]
IN_PLANE = ("along", "vertical")
ACCIDENTAL = "accidental"  # level of the combination a situation after damage is looked at in
FOR_SCALE = "for scale only, of another code: it is no resistance here and compares with nothing"
WET = 3  # the service class of timber outdoors, a name and no figure


@dataclass(frozen=True, slots=True, eq=False)
class Glass:
    """One layer of glass: its kind (toughened, heat-strengthened, annealed), surface, edge finish, minimum thickness; the
    probability of breakage under wind the job asks for, if it does."""

    kind: str
    surface: str
    edge: str
    t: Value | None = None
    breakage: Value | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Fastener:
    """A screw: outer thread diameter, root diameter, tensile strength, declared withdrawal, as far as known; whether it
    is driven into the end of the wood, along its grain; what kind of screw it is (coach screw, wood screw, structural
    screw) and of what material."""

    d: Value
    d_1: Value | None
    f_u: Value | None
    f_ax_k: Value | None = None
    rho_a: Value | None = None
    end_grain: bool = False
    Q_k: Value | None = None
    kind: str | None = None
    material: str | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Timber:
    """A timber by its name in each family of codes; ``service_class`` 1 to 3, 3 is wet.

    ``names`` may hold facts some family asks beside the grade (species, groups, whether it is seasoned). ``depth`` is the
    longer side of the section, where strengths depend on it; ``category`` and ``tropics`` are what some family asks of the
    job as a whole.
    """

    names: Mapping[str, str]
    service_class: int
    laminated: bool = False
    depth: Value | None = None
    category: int = 2
    tropics: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Driven:
    """Nails or screws driven through a joist of width ``side`` into the end of a piece of blocking, loaded across.

    ``apart`` is how far the highest stands above the lowest, where that is known.
    """

    kind: str
    number: Value
    d: Value | None
    length: Value | None
    side: Value | None
    side_timber: Timber
    timber: Timber
    apart: Value | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Action:
    """A characteristic action on the barrier as its code or the reader gives it.

    ``kind`` says how it acts. Across the glass: line, point, pressure or patch; ``side`` the side of a square patch. In the plane
    of the glass, at its top edge: along (a force along the barrier, either way) and vertical (a line load or a force; down, and up
    as well where the basis says *any direction*). ``size`` is its magnitude; ``height`` above the decking where the code fixes one;
    ``service`` the magnitude movement is looked at under, where it is another; ``level`` what its size is called where it is not
    what the family calls one before any factor; ``strips`` how a pressure changes along the panel, ``size`` then being
    its mean; ``of`` which load of its code a vertical one is.
    """

    id: str
    title: str
    kind: ActionKind
    size: Value
    nature: Nature
    required: bool
    source: str
    height: Value | None = None
    side: Value | None = None
    service: Value | None = None
    level: str = ""
    strips: tuple[Strip, ...] = ()
    of: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class BothAtOnce:
    """Barrier load and wind in one combination: the share of the size of each, before the factor of the combination."""

    strength: Combination
    service: Combination
    barrier: Value
    wind: Value
