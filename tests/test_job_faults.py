"""What a job file may not say: each fault with its line, its key and words that help. One table, one test."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

import pytest

from barrier.errors import JobRefused
from barrier.job import job_from_text, read_job

EXAMPLE = (Path(__file__).parent / "data" / "jobs" / "garden.toml").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Bad:
    """The example with ``old`` replaced by ``new``: a fault must name ``key``, the line of ``at``, and say ``words``."""

    old: str
    new: str
    key: str
    words: tuple[str, ...]
    at: str = ""


MOUNT_2 = 'in_bay = "200 mm"\noffset = "0 mm"\n\n[mount_types'

BAD = {
    # quantities
    "no unit": Bad('width = "1000 mm"', "width = 1000", "panels.P3.width", ("has no unit", '"1000 mm"')),
    "decimal, no unit": Bad('tip = "8 mm"', "tip = 8.5", "mount_types.deep.screw.tip", ('"8.5 mm"',)),
    "text, no unit": Bad('width = "1000 mm"', 'width = "1000"', "panels.P3.width", ("has no unit", "'1000 mm'")),
    "comma": Bad('width = "1000 mm"', 'width = "1,2 m"', "panels.P3.width", ("comma", "point")),
    "thousands": Bad('width = "1000 mm"', 'width = "1,000 mm"', "panels.P3.width", ("comma",)),
    "megamolar": Bad('width = "1000 mm"', 'width = "12 MM"', "panels.P3.width", ('did you mean "mm"?',)),
    "knots": Bad('# line = "0.74 kN/m"', 'line = "0.75 kn/m"\nreference = "x"', "loads.line", ('"kN/m"?',), "line ="),
    "wrong kind": Bad('width = "1000 mm"', 'width = "12 kN"', "panels.P3.width", ("is in kN", "expected a length")),
    "nan": Bad('width = "1000 mm"', 'width = "nan mm"', "panels.P3.width", ("does not begin with a number",)),
    "toml nan": Bad('width = "1000 mm"', "width = nan", "panels.P3.width", ("nan", "no number")),
    "inf": Bad('width = "1000 mm"', 'width = "inf mm"', "panels.P3.width", ("does not begin with a number",)),
    "toml inf": Bad('width = "1000 mm"', "width = inf", "panels.P3.width", ("inf", "no number")),
    "overflow": Bad('width = "1000 mm"', 'width = "1e400 mm"', "panels.P3.width", ("not a finite number",)),
    "negative": Bad('width = "1000 mm"', 'width = "-1000 mm"', "panels.P3.width", ("outside the allowed 100 to 6000 mm",)),
    "too large": Bad('width = "1000 mm"', 'width = "30 m"', "panels.P3.width", ("outside the allowed 0.1 to 6 m",)),
    "power": Bad('width = "1000 mm"', 'width = "9**9**9 mm"', "panels.P3.width", ("unknown unit",)),
    "only a unit": Bad('width = "1000 mm"', 'width = "mm"', "panels.P3.width", ("does not begin with a number",)),
    "empty": Bad('width = "1000 mm"', 'width = ""', "panels.P3.width", ("is empty",)),
    "too long": Bad('width = "1000 mm"', f'width = "{"1" * 5000} mm"', "panels.P3.width", ("too long",)),
    "truth for a size": Bad('width = "1000 mm"', "width = true", "panels.P3.width", ("is true", "a length")),
    "table for a size": Bad('width = "1000 mm"', "width = { a = 1 }", "panels.P3.width", ("table or list", "a length")),
    "list for a size": Bad('width = "1000 mm"', 'width = ["1000 mm"]', "panels.P3.width", ("table or list",)),
    "cannot be unknown": Bad('width = "1000 mm"', 'width = "unknown"', "panels.P3.width", ("cannot be unknown",)),
    # words, truths, numbers
    "word": Bad('glass = "toughened"', 'glass = "toughend"', "panels.P3.layers.1.glass", ('did you mean "toughened"?',)),
    "word, far off": Bad('rail = "none"', 'rail = "oak"', "panels.P3.rail", ('one of "none", "interlinking", "cap"',)),
    "truth in quotes": Bad("pool = false", 'pool = "false"', "site.pool", ("no quotes",)),
    "number in quotes": Bad("service_class = 3", 'service_class = "3"', "site.service_class", ("whole number from 1 to 3",)),
    "service class": Bad("service_class = 3", "service_class = 4", "site.service_class", ("1 to 3",)),
    "half a piece": Bad("pieces = 2", "pieces = 2.5", "blocking.B1.pieces", ("whole number",)),
    "no piece": Bad("pieces = 2", "pieces = 0", "blocking.B1.pieces", ("1 to 8",)),
    "huge number": Bad("pieces = 2", f"pieces = {'9' * 3000}", "blocking.B1.pieces", ("more than 1000 digits",)),
    "large number": Bad("pieces = 2", f"pieces = {'9' * 300}", "blocking.B1.pieces", ("a very large number",)),
    "date": Bad('date = "2026-11-02"', 'date = "2 November"', "date", ('such as "2026-11-02"',)),
    "no such day": Bad('date = "2026-11-02"', 'date = "2026-02-30"', "date", ("a date",)),
    "title": Bad('title = "Garden deck, five panels, invented"', "title = 5", "title", ("a text in quotes",)),
    "control character": Bad(
        'title = "Garden deck, five panels, invented"', 'title = "a\\u001b[31mb"', "title", ("cannot be printed",)
    ),
    "family of codes": Bad('basis = "en"', 'basis = "eu"', "basis", ('one of "en", "us", "au", "nz"',)),
    "name with a dot": Bad('name = "P3"', 'name = "P.3"', "panels.1.name", ("cannot be a name",)),
    "name of digits": Bad('name = "M1"', 'name = "1"', "mounts.1.name", ("at least one letter",)),
    "material": Bad(
        'board_screws = "unknown"', 'board_screws = "unknown"\n[joists.x]', "joists.x", ("not a known key",), "[joists.x]"
    ),
    "family in material": Bad(
        'material = { en = "C24", us = "Douglas Fir-Larch" }\nboard',
        'material = { eu = "C24" }\nboard',
        "decking.material.eu",
        ("family of codes",),
        "{ eu",
    ),
    # keys and shape
    "unknown key": Bad('height = "1040 mm"', 'hieght = "1040 mm"', "panels.P3.hieght", ('did you mean "height"?',)),
    "missing key": Bad('height = "1040 mm"\n', "", "panels.P3.height", ("is missing", "a length"), "[[panels]]"),
    "unknown table": Bad("[decking]", "[decing]", "decing", ('did you mean "decking"?',)),
    "missing table": Bad("[site]", "[sight]", "site", ("is missing", "write [site]"), "no line"),
    "unknown in a type": Bad("spreader = true", "spredder = true", "mount_types.deep.spredder", ('"spreader"?',)),
    "unknown, deep": Bad('root = "5.4 mm"', 'rot = "5.4 mm"', "mount_types.deep.screw.rot", ('"root"?',)),
    "place in a type": Bad("spreader = true", 'x = "5 mm"', "mount_types.deep.x", ("not a known key",)),
    "single brackets": Bad("[[panels]]", "[panels]", "panels", ("double brackets",)),
    "double brackets": Bad("[site]", "[[site]]", "site", ("single brackets",)),
    "entry for a table": Bad(
        "[limits]\n", '[[situations]]\nname = "n"\nset = 5\n[limits]\n', "situations.n.set", ("no table of changes",), "set = 5"
    ),
    "no such type": Bad('type = "deep"', 'type = "depe"', "mounts.M1.type", ('did you mean "deep"?',)),
    "no such blocking": Bad('blocking = "B1"', 'blocking = "b1"', "mounts.M1.blocking", ('did you mean "B1"?',)),
    "no such panel": Bad('panel = "P3"', 'panel = "P4"', "mounts.M1.panel", ("is not there", '"P3"')),
    "same_as nothing": Bad('same_as = "B1"', 'same_as = "B7"', "blocking.B2.same_as", ("is not there",)),
    "same_as itself": Bad('same_as = "B1"', 'same_as = "B2"', "blocking.B2.same_as", ("circle",)),
    "same mount": Bad('name = "M2"', 'name = "M1"', "mounts.M1", ("name of another one",), 'x = "770 mm"'),
    "same screw": Bad('name = "S2"', 'name = "S1"', "screws.S1.x", ("a second screw named S1",), 'x = "55 mm"'),
    "blocking not named": Bad('blocking = "B1"\n', "", "mounts.M1.x", ("names none",), 'x = "230'),
    "blocking not used": Bad('support = "blocking"', 'support = "decking only"', "mounts.M1.x", ("names blocking B1",), 'x = "230'),
    "no such folder": Bad('national = "uk"', 'national = "uk"\ntables = "nowhere"', "tables", ("folder", "'nowhere'"), "tables ="),
    # contradictions within a table
    "minimum": Bad('# minimum = "18.0 mm"', 'minimum = "19.5 mm"', "layers.1.minimum", ("above the nominal",)),
    "root": Bad('root = "5.4 mm"', 'root = "8 mm"', "screw.root", ("not below the outer diameter",)),
    "threaded": Bad('threaded = "150 mm"', 'threaded = "190 mm"', "screw.threaded", ("longer than the screw",)),
    "tip": Bad('threaded = "150 mm"', 'threaded = "7 mm"', "screw.tip", ("longer than the thread",), "tip ="),
    "head": Bad('head = "15 mm"', 'head = "8 mm"', "screw.head", ("not above the outer diameter",)),
    "withdrawal": Bad('# withdrawal = "12 MPa"', 'withdrawal = "12 MPa"', "screw.withdrawal", ("withdrawal_density",)),
    "pad upside down": Bad('bottom = "0 mm"', 'bottom = "160 mm"', "pads.1.top", ("not above the bottom",), 'top = "150 mm"'),
    "stiffness band": Bad('stiffness_low = "20 N/mm3"', 'stiffness_low = "150 N/mm3"', "stiffness_low", ("above stiffness_high",)),
    "stiffness below": Bad('stiffness = "40 N/mm3"', 'stiffness = "15 N/mm3"', "pads.1.stiffness", ("below stiffness_low",)),
    "rigid pad": Bad(
        'stiffness_high = "100 N/mm3"', 'stiffness_high = "900 N/mm3"', "stiffness_high", ("hard = true", "no limit value")
    ),
    "oval": Bad(
        'shape = "rectangle"             # rectangle | round\nalong = "150 mm"',
        'shape = "round"\nalong = "140 mm"',
        "plate.across",
        ("one diameter",),
        'across = "150 mm"',
    ),
    "post beside its plate": Bad('clamp_reach = "40 mm"', 'clamp_reach = "80 mm"', "plate.clamp_reach", ("beyond half the plate",)),
    "screw off the plate": Bad('y = "-48 mm"', 'y = "-73 mm"', "screws.S1.x", ("S1 outside the base plate",), 'x = "-55 mm"'),
    "screw on screw": Bad('x = "55 mm"', 'x = "-53 mm"', "screws.S2.x", ("on screw S1",)),
    "rating without meaning": Bad(
        'meaning = "characteristic"\nreference = "invented bracket"\n[blocking.B1.right]',
        "[blocking.B1.right]",
        "blocking.B1.left.uplift",
        ("meaning",),
        'uplift = "6.5 kN"',
    ),
    "rated nails": Bad('fixing = "bracket"', 'fixing = "nails"', "blocking.B1.left.uplift", ("only a bracket",), 'uplift = "6.5'),
    "nails in a bracket": Bad('uplift = "6.5 kN"', 'diameter = "3.1 mm"', "blocking.B1.left.diameter", ("nail",)),
    "load without source": Bad('# point = "0.5 kN"', 'point = "0.5 kN"', "loads.point", ("loads.reference",)),
    "wind without source": Bad(
        'reference = "invented: stands for a site wind calculation by others"',
        'reference = ""',
        "wind.pressure",
        ("wind.reference",),
        'pressure = "0.45',
    ),
    "limit without source": Bad(
        'reference = "invented: agreed with the reviewing engineer"',
        "",
        "limits.top_movement",
        ("limits.reference",),
        "top_movement",
    ),
    "second layer": Bad(
        'nominal = "19 mm"',
        'nominal = "10 mm"\n[[panels.layers]]\nglass = "annealed"\nnominal = "9 mm"',
        "layers.2.nominal",
        ("interlayer",),
        'nominal = "9',
    ),
    "lone interlayer": Bad(
        "# [panels.interlayer]",
        '[panels.interlayer]\nthickness = "1.5 mm"',
        "interlayer.thickness",
        ("one layer",),
        'thickness = "1.5 mm"',
    ),
    # contradictions between tables
    "barrier height": Bad(
        'barrier_height = "1100 mm"', 'barrier_height = "1110 mm"', "site.barrier_height", ("1100 mm", "measure again")
    ),
    "load above the glass": Bad(
        '# height = "1100 mm"',
        'height = "1150 mm"\nreference = "x"',
        "loads.height",
        ("above the top of the glass",),
        'height = "1150',
    ),
    "off the glass": Bad('x = "230 mm"', 'x = "50 mm"', "mounts.M1.x", ("beyond the end of the glass",)),
    "pad above the glass": Bad('top = "150 mm"', 'top = "1100 mm"', "pads.1.top", ("above the top of the glass",)),
    "overlap": Bad('x = "770 mm"', 'x = "300 mm"', "mounts.M2.x", ("overlap",)),
    "outside its bay": Bad('in_bay = "200 mm"', 'in_bay = "420 mm"', "mounts.M1.in_bay", ("outside the bay", "405 mm")),
    "beside its blocking": Bad('offset = "0 mm"', 'offset = "180 mm"', "mounts.M1.offset", ("beside its blocking",)),
    "plate over plate": Bad('x = "770 mm"', 'x = "375 mm"', "mounts.M2.x", ("base plate of mount M2 over", "overlap")),
    "two mounts, one blocking": Bad(
        'blocking = "B2"', 'blocking = "B1"', "mounts.M2.in_bay", ("0 mm apart on the one", "540 mm apart", "same_as"), MOUNT_2
    ),
    "joists too close": Bad('spacing = "450 mm"', 'spacing = "200 mm"', "blocking.B1.length", ("155 mm",), 'length = "405 mm"'),
    "blocking along its joists": Bad(
        'direction = "along"             # pieces', 'direction = "across" # pieces', "blocking.B1.direction", ("look from below",)
    ),
    # refused by name
    "drilled glass": Bad("drilled = false\nshape", "drilled = true\nshape", "panels.P3.drilled", ("is refused", "hole or notch")),
    "gate": Bad('use = "fixed"', 'use = "gate"', "panels.P3.use", ("is refused", "swings")),
    "hinge": Bad('use = "fixed"', 'use = "hinge"', "panels.P3.use", ("is refused", "hinge panel")),
    "latch": Bad('use = "fixed"', 'use = "latch"', "panels.P3.use", ("is refused", "latch panel")),
    "raked": Bad('shape = "rectangular"', 'shape = "raked"', "panels.P3.shape", ("is refused", "raked panel")),
    "curved": Bad('shape = "rectangular"', 'shape = "curved"', "panels.P3.shape", ("is refused", "shell")),
    "cantilevered": Bad(
        'support = "blocking"', 'support = "cantilevered boards"', "mounts.M1.support", ("is refused", "tips the boards")
    ),
    # TOML
    "duplicate key": Bad(
        'height = "1040 mm"',
        'height = "1040 mm"\nheight = "1041 mm"',
        "",
        ("the key height stands here a second time",),
        'height = "1041',
    ),
    "duplicate table": Bad("[decking]", "[site]\n[decking]", "", ("a second time",), "[site]\n[decking]"),
    "open quote": Bad('width = "1000 mm"', 'width = "1000 mm', "", ("quote",), 'width = "1000'),
    "no quotes": Bad('width = "1000 mm"', "width = 1000 mm", "", ("more on this line", "quote"), "width = 1000"),
    "no equals": Bad('width = "1000 mm"', 'width "1000 mm"', "", ("no = after the key",), "width "),
    "open bracket": Bad("[decking]", "[decking", "", ("not closed",), "[decking"),
    "curly quotes": Bad('width = "1000 mm"', "width = “1000 mm”", "", ("in quotes",), "width ="),
}


def made(bad: Bad) -> tuple[str, int | None]:
    """The bad file, and the line its fault is on."""
    assert EXAMPLE.count(bad.old) >= 1, "the example has changed"
    text = EXAMPLE.replace(bad.old, bad.new, 1)
    if bad.at == "no line":
        return text, None
    return text, text.count("\n", 0, text.index(bad.at or bad.new)) + 1


@pytest.mark.parametrize("name", BAD)
def test_a_bad_entry_is_named_with_its_line(name: str) -> None:
    text, line = made(BAD[name])
    with pytest.raises(JobRefused) as refused:
        job_from_text(text, "job.toml")
    faults = [f for f in refused.value.faults if f.key.endswith(BAD[name].key) and f.line == line]
    assert faults, f"expected {BAD[name].key} on line {line}, got {refused.value}"
    assert any(all(w in f.text for w in BAD[name].words) for f in faults), str(refused.value)
    assert_in_our_words(refused.value)


def assert_in_our_words(refused: JobRefused) -> None:
    """Never a word of the libraries, and every fault one line."""
    text = str(refused)
    for theirs in ("pydantic", "Input should", "Field required", "tomllib", "Value error", "Traceback", "Expected newline"):
        assert theirs not in text
    assert len(text.splitlines()) == len(refused.faults)
    assert all(f.text.strip() and len(f.text) < 400 for f in refused.faults)


def test_one_mistake_is_one_fault() -> None:
    """A wrong unit in a mount type is said once, not once for each mount; and it drags nothing behind it."""
    counts = {}
    for name, bad in BAD.items():
        with pytest.raises(JobRefused) as refused:
            job_from_text(made(bad)[0])
        counts[name] = len(refused.value.faults)
    more = {name: n for name, n in counts.items() if n > 1}
    # A renamed table is unknown under its new name and missing under its old; so is a renamed key that must be there.
    # A rating that loses its meaning, or its bracket, is two ratings (uplift and down).
    assert set(more) <= {
        "unknown table", "missing table", "unknown key", "rated nails", "rating without meaning", "wind without source",
        "limit without source", "second layer", "family in material",
    }, more  # fmt: skip
    assert max(more.values()) <= 3, more


def test_a_flood_of_faults_is_cut_and_counted() -> None:
    text = "".join(f"k{i} = 1\n" for i in range(1000)) + EXAMPLE
    with pytest.raises(JobRefused) as refused:
        job_from_text(text)
    assert len(refused.value.faults) == 201
    assert refused.value.faults[-1].text == "has 800 more faults; mend these first"


def test_what_a_mount_lacks_belongs_in_its_type() -> None:
    start, end = EXAMPLE.index("[mount_types.deep.plate]"), EXAMPLE.index("[mount_types.deep.screw]")
    with pytest.raises(JobRefused, match=r"mounts\.M1\.plate is missing; write \[mount_types\.NAME\.plate\]"):
        job_from_text(EXAMPLE[:start] + EXAMPLE[end:])


def test_nine_faults_at_once() -> None:
    text = EXAMPLE
    for old, new in (
        ('width = "1000 mm"', 'width = "1000 kN"'),
        ('height = "1040 mm"', 'hieght = "1040 mm"'),
        ('glass = "toughened"', 'glass = "tempered"'),
        ('root = "5.4 mm"', 'root = "9 mm"'),
        ('stiffness = "40 N/mm3"', "stiffness = 40"),
        ('gap_under = "0 mm"', 'gap_under = "1,5 mm"'),
        ("service_class = 3", "service_class = 7"),
        ("pieces = 2", 'pieces = "two"'),
        ('in_bay = "200 mm"', 'in_bay = "0,2 m"'),
    ):
        assert old in text
        text = text.replace(old, new, 1)
    with pytest.raises(JobRefused) as refused:
        job_from_text(text, "job.toml")
    keys = {f.key for f in refused.value.faults}
    assert keys >= {
        "panels.P3.width", "panels.P3.hieght", "panels.P3.layers.1.glass", "mount_types.deep.screw.root",
        "mount_types.deep.pads.1.stiffness", "decking.gap_under", "site.service_class", "blocking.B1.pieces",
        "mounts.M1.in_bay",
    }  # fmt: skip
    assert "panels.P3.height" in keys  # what hieght was meant to be
    assert len(refused.value.faults) == 10
    lines = [f.line or 0 for f in refused.value.faults]
    assert lines == sorted(lines) and 0 not in lines


def test_contradictions_are_seen_beside_other_faults() -> None:
    """A wrong unit in one table hides no clamp off the glass in another."""
    text = EXAMPLE.replace("service_class = 3", "service_class = 7", 1).replace('x = "230 mm"', 'x = "20 mm"', 1)
    with pytest.raises(JobRefused) as refused:
        job_from_text(text)
    assert {f.key for f in refused.value.faults} == {"site.service_class", "mounts.M1.x"}


def one_clamp(width: str) -> str:
    start = EXAMPLE.index('[[mounts]]\nname = "M2"')
    end = EXAMPLE.index("[mount_types.deep]")
    text = EXAMPLE[:start] + EXAMPLE[end:]
    return text.replace('x = "230 mm"', 'x = "500 mm"', 1).replace('width = "120 mm"', f'width = "{width}"', 1)


def test_a_panel_on_one_clamp_is_refused_and_a_channel_is_not() -> None:
    with pytest.raises(JobRefused, match="one-clamp panel turns"):
        job_from_text(one_clamp("120 mm"))
    channel = job_from_text(one_clamp("1000 mm"))
    assert len(channel.mounts) == 1


def test_a_panel_no_mount_holds_is_refused() -> None:
    panel = EXAMPLE[EXAMPLE.index("[[panels]]") : EXAMPLE.index("[[mounts]]")].replace('"P3"', '"P4"')
    with pytest.raises(JobRefused, match="P4, which no mount holds"):
        job_from_text(EXAMPLE.replace("[[mounts]]", panel + "[[mounts]]", 1))


PACKER = '[[mount_types.deep.packers]]\nx = "{x}"\ny = "0 mm"\nalong = "50 mm"\nacross = "50 mm"\nthickness = "3 mm"\n'
HOLE = '[mount_types.deep.service_hole]\ndiameter = "22 mm"\nx = "{x}"\ny = "{y}"\n'


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (PACKER.format(x="55 mm"), "packer partly outside"),
        (HOLE.format(x="70 mm", y="0 mm"), "partly outside the base plate"),
        (HOLE.format(x="50 mm", y="45 mm"), "in the service hole"),
    ],
)
def test_packers_and_holes_lie_under_the_plate(extra: str, words: str) -> None:
    with pytest.raises(JobRefused, match=words):
        job_from_text(EXAMPLE.replace("[mount_types.deep.rating]", extra + "[mount_types.deep.rating]"))


def test_packers_and_holes_are_read_where_they_fit() -> None:
    extra = PACKER.format(x="10 mm") + HOLE.format(x="0 mm", y="0 mm")
    job = job_from_text(EXAMPLE.replace("[mount_types.deep.rating]", extra + "[mount_types.deep.rating]"))
    mount = job.mounts[1]
    assert mount.service_hole is not None
    assert mount.service_hole.diameter.x == 22.0 and mount.packers[0].x.x == 10.0


# ---------------------------------------------------------------- files that are no job file

CONTENT = {
    "empty": (b"", "is empty", None),
    "blank": (b" \n\t\n", "is empty", None),
    "comments": (b"# nothing\n", "comments only", None),
    "binary": (b"\x7fELF\x02\n\x00\x01", "no text file", 2),
    "utf-16": ("title = 1".encode("utf-16"), "UTF-16", None),
    "latin-1": ('a = 1\ntitle = "Geländer"'.encode("latin-1"), "no UTF-8", 2),
    "nested": (b"a = " + b"[" * 5000 + b"]" * 5000, "nested deeper", None),
    "nested tables": (b"[" + b".".join([b"a"] * 300) + b"]", "nested deeper", 1),
    "digits": (b"a = " + b"9" * 5000, "cannot be read", None),
    "large": (b"#" * 1_000_001, "at most 1 MB", None),
}


@pytest.mark.parametrize("name", CONTENT)
def test_no_job_file(name: str, tmp_path: Path) -> None:
    content, words, line = CONTENT[name]
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    with pytest.raises(JobRefused) as refused:
        read_job(path)
    (fault,) = refused.value.faults
    assert words in fault.text and fault.line == line
    assert_in_our_words(refused.value)


def test_a_large_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    with path.open("wb") as f:
        f.truncate(50_000_000)
    with pytest.raises(JobRefused, match="has 50\\.0 MB; a job file has at most 1 MB"):
        read_job(path)


def test_places_that_are_no_file(tmp_path: Path) -> None:
    with pytest.raises(JobRefused, match="is a folder"):
        read_job(tmp_path)
    with pytest.raises(JobRefused, match="there is no such file"):
        read_job(tmp_path / "none.toml")
    with pytest.raises(JobRefused, match="cannot be used"):
        read_job("a\0b")
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(JobRefused, match="no ordinary file"):
        read_job(pipe)


def test_a_mark_before_the_text_and_windows_line_ends_are_fine(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.replace("\n", "\r\n").encode())
    job = read_job(path)
    assert job.entry("panels.P3.width").line == read_job_line('width = "1000 mm"')


def read_job_line(piece: str) -> int:
    return EXAMPLE.count("\n", 0, EXAMPLE.index(piece)) + 1
