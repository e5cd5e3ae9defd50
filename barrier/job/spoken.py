"""An entry of the job in trade words: what an installer calls it, where a sheet speaks to him and not to the job file."""

from __future__ import annotations

# A table that holds one thing for each name or number behind it.
EACH = {
    "panels": "panel",
    "layers": "glass layer",
    "broken": "broken layer",
    "mounts": "mount",
    "mount_types": "mount type",
    "pads": "pad",
    "screws": "screw",
    "packers": "packer",
    "splices": "joint",
    "openings": "opening",
    "line": "place",
    "blocking": "blocking",
    "bases": "basis",
    "situations": "situation",
}
# A table of its own.
ONE = {
    "board_screws": "screws of the boards",
    "decking": "boards",
    "inner": "inner support",
    "interlayer": "interlayer",
    "joists": "joists",
    "left": "left end",
    "limits": "limits",
    "loads": "loads",
    "outer": "outer support",
    "plate": "base plate",
    "rail": "rail",
    "rating": "supplier's rating",
    "restraint": "restraint",
    "right": "right end",
    "screw": "screws",
    "service_hole": "service hole",
    "site": "",
    "ties": "ties",
    "wind": "wind",
}
ENTRIES = {
    "across": "size across the glass",
    "along": "size along the glass",
    "angle": "slant",
    "at": "place along the rail",
    "below": "what is below the edge",
    "below_deck": "whether air can get under the deck",
    "between": "gap between two panels",
    "board_width": "width of one board",
    "bottom_gap": "gap below the glass",
    "connection": "stiffness of its grip on the glass",
    "connection_high": "stiffness of its grip on the glass, stiff end",
    "connection_low": "stiffness of its grip on the glass, soft end",
    "continuous": "whether it runs through without a joint",
    "corner": "length of the glass round the corner at its end",
    "coupling": "whether the film couples the layers",
    "dead_load": "what one of them carries at all times",
    "drilled": "whether it is drilled",
    "earthed": "whether it is earthed",
    "edge": "finish of the edges",
    "fixing": "what holds it",
    "free_end": "side its free end is at",
    "from_end": "distance from the end of the run",
    "gap": "gap between two boards",
    "gap_under": "gap under the boards",
    "glass": "kind of glass",
    "grain": "grain of the wood its screws stand in",
    "grip": "what its grip on the glass holds",
    "grip_meaning": "what that figure means",
    "grip_reference": "whose figure that is",
    "grooved": "whether they are grooved",
    "hard": "whether the liner is hard",
    "head": "diameter of the head",
    "highest": "height of the highest screw or nail",
    "hill": "whether it stands at a hill",
    "hill_factor": "factor of the hill",
    "holds": "what it holds across the glass",
    "imposed_load": "people and goods on one of them",
    "in_bay": "place between the joists",
    "inertia": "second moment of area",
    "joined": "whether the corner is joined",
    "laid": "whether it is laid upright or flat",
    "laminated": "whether its pieces are loose or glued",
    "line": "line load",
    "lowest": "depth of the lowest screw or nail",
    "map_speed": "speed of the map for this place",
    "meaning": "what the rating means",
    "minimum": "minimum thickness",
    "modulus": "shear modulus when warm",
    "modulus_high": "shear modulus when cold",
    "moment_down": "moment it bears, bent down",
    "mount_from_end": "mounts from the outer end of the joists",
    "national": "national table of loads",
    "nominal": "nominal thickness",
    "outdoors": "whether it is outdoors",
    "place": "place in the run of glass",
    "point": "point load",
    "present": "whether it is there",
    "rail": "rail on top",
    "reach": "how far it runs on beyond the glass",
    "restraint_spacing": "distance between what keeps it from turning",
    "root": "core diameter",
    "run_length": "length of the straight run of glass",
    "seat": "length that lies on the bearer",
    "section_modulus": "section modulus",
    "section_modulus_down": "section modulus, bent down",
    "sideways": "what it holds sideways",
    "slip_along": "grip along the glass",
    "slip_up": "grip against lifting",
    "speed": "speed on the permit or the hazard map",
    "spreader": "rigid spreader plate",
    "stiffness_high": "stiffness, stiff end",
    "stiffness_low": "stiffness, soft end",
    "substrate": "what it was tested on",
    "support": "what the mount stands on",
    "threaded": "length of the thread",
    "tip": "length of the tip",
    "torque": "what it holds against turning",
    "turning_stiffness": "how far it turns",
    "ultimate_strength": "strength of the steel",
    "uplift": "what it holds down",
    "x": "place along the glass",
    "y": "place across the glass",
}


def spoken(path: str) -> str:
    """An entry by its path, in words: what it belongs to, then what it is.

    Argument: ``path`` of the job file, ``mounts.M1.screws.S1.present``. Returns words without a full stop; names and
    numbers of things stay as they are, a key that is not known here loses its underscores.

    >>> spoken("mount_types.post.pads.1.stiffness_low"), spoken("blocking.B1.left.ultimate_strength")
    ('mount type post, pad 1: stiffness, soft end', 'blocking B1, left end: strength of the steel')
    >>> spoken("decking.board_screws.root"), spoken("site.service_class"), spoken("blocking.B1")
    ('screws of the boards: core diameter', 'service class', 'blocking B1')
    """
    rest, owners, entry = path.split("."), [], ""
    while rest:
        key = rest.pop(0)
        if key in EACH and rest:
            owners.append(f"{EACH[key]} {rest.pop(0)}")
        elif key in ONE and (rest or key not in ENTRIES):
            owners.append(ONE[key])
        else:
            entry = ENTRIES.get(key) or key.replace("_", " ")
    if "screws of the boards" in owners:
        owners.remove("boards")
    return ": ".join(part for part in (", ".join(o for o in owners if o), entry) if part)
