"""``barrier verify``: a fresh sheet agrees, whatever was changed in it is found and named, broken sheets are refused."""

from __future__ import annotations

import copy
import json
import os
import re
import zlib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from conftest import DIFFERENT, ROOT, job_named, result_of, text_sheet
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import ladder_of

import barrier
from barrier import sheet
from barrier.cli import main
from barrier.job import read_job
from barrier.load_path import Result, check
from barrier.result import Situation, Standing
from barrier.sheet.source import ELEMENT, embedded, source
from barrier.verify import SheetRefused, Verdict, again, verify
from barrier.verify.compare import compared
from barrier.verify.read import LARGEST, read_sheet
from barrier.verify.verdict import words

NAMES = [p.stem for p in DIFFERENT]
NAME = "boards_only"  # the example that is walked fastest
MEASURED = """\
# Measured timber
# edition: report of 2026
# column class: key
# column f_c_90_k: stress in MPa
class,f_c_90_k,source
C24,2.9,report 17 of the testing house
"""
AGREES, DIFFERS, REFUSED = 0, 1, 2


@cache
def sheet_json(name: str = NAME) -> str:
    return sheet.json_text(result_of(name))


@cache
def document() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(sheet_json())
    return found


@cache
def made() -> again.Again:
    return again.Again("check", result_of(NAME))


def written(folder: Path, content: str | bytes, name: str = "sheet.json") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def verdict_of(folder: Path, changed: dict[str, Any]) -> Verdict:
    """The verdict without walking again: the job of the sheet was not touched."""
    return compared(read_sheet(written(folder, json.dumps(changed, ensure_ascii=False))), made())


def changed_at(path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    changed = copy.deepcopy(document())
    node = changed
    for part in path[:-1]:
        node = node[part]
    node[path[-1]] = value
    return changed


def leaves(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield from leaves(value, (*path, key))
    elif isinstance(node, list):
        for i, value in enumerate(node):
            yield from leaves(value, (*path, i))
    else:
        yield path, node


def is_number(x: Any) -> bool:
    return isinstance(x, (int, float)) and not isinstance(x, bool)


# Numbers and words that are printed; the source is what they are made again from, and has tests of its own.
NUMBERS = [p for p, x in leaves(document()) if is_number(x) and p[0] not in ("source", "version")]
WORDS = [p for p, x in leaves(document()) if isinstance(x, str) and p[0] not in ("source", "format", "tool_version")]


# ---------------------------------------------------------------- what agrees


@pytest.mark.parametrize("name", NAMES)
def test_a_fresh_sheet_agrees_to_the_byte(name: str, tmp_path: Path) -> None:
    verdict = verify(written(tmp_path, sheet_json(name)))
    assert verdict.agrees and verdict.bytes_agree and verdict.numbers > 100 and not verdict.tables


def test_the_same_set_otherwise_agrees(tmp_path: Path) -> None:
    verdict = verdict_of(tmp_path, document())
    assert verdict.agrees and not verdict.bytes_agree


def test_a_changed_job_and_situations_of_the_caller_are_made_again(tmp_path: Path) -> None:
    job = job_named(NAME).with_({"decking.thickness": "30 mm"}).with_({"decking.thickness": "27 mm"})
    found = check(job, [Situation("thin boards", {"decking.thickness": "21 mm"}, Standing.REQUIRED, "said by the caller")])
    verdict = verify(written(tmp_path, sheet.json_text(found)))
    assert verdict.agrees and verdict.bytes_agree


def test_tables_of_the_reader_travel_with_the_sheet(tmp_path: Path) -> None:
    """The folder is gone when the sheet is made again; its rows are in the sheet."""
    folder = tmp_path / "mine"
    folder.mkdir()
    own = folder / "timber_en338_2016.csv"
    own.write_text(MEASURED)
    text = job_named("garden_deck").text.decode()
    path = tmp_path / "job.toml"
    path.write_text('tables = "mine"\n' + text)
    result = check(read_job(path))
    assert result.tables.replaced
    sheet_file = written(tmp_path, sheet.json_text(result))
    own.unlink()
    folder.rmdir()
    path.unlink()
    verdict = verify(sheet_file)
    assert verdict.agrees and verdict.bytes_agree
    carried = json.loads(sheet_file.read_text())["source"]["tables"]
    assert carried == [{"name": "timber_en338_2016", "text": MEASURED}]

    changed = sheet_file.read_text().replace("C24,2.9,", "C24,2.8,")
    verdict = verify(written(tmp_path, changed))
    assert not verdict.agrees and verdict.tables == ("timber_en338_2016",)


# ---------------------------------------------------------------- what differs


@settings(max_examples=60, deadline=None)
@given(path=st.sampled_from(NUMBERS), by=st.floats(1e-5, 10), up=st.booleans())
def test_any_number_that_was_changed_is_found(path: tuple[Any, ...], by: float, up: bool, tmp_path_factory: Any) -> None:
    node: Any = document()
    for part in path:
        node = node[part]
    other = node + (1 if up else -1) * (max(abs(node), 1) * by if isinstance(node, float) else 1)
    verdict = verdict_of(tmp_path_factory.mktemp("v"), changed_at(path, other))
    assert len(verdict.differences) == 1
    difference = verdict.differences[0]
    assert difference.where.endswith(str(path[-1])) or isinstance(path[-1], int)
    assert float(difference.printed) == other and float(difference.recomputed) == node


@settings(max_examples=40, deadline=None)
@given(path=st.sampled_from(WORDS), word=st.sampled_from(["within", "exceeds", "no", ""]))
def test_any_word_that_was_changed_is_found(path: tuple[Any, ...], word: str, tmp_path_factory: Any) -> None:
    node: Any = document()
    for part in path:
        node = node[part]
    if node != word:
        assert not verdict_of(tmp_path_factory.mktemp("v"), changed_at(path, word)).agrees


def test_a_changed_number_is_named_by_its_check(tmp_path: Path) -> None:
    situation = document()["situations"][0]
    j = next(i for i, link in enumerate(situation["links"]) if link["id"] == "glass")
    checks = situation["links"][j]["checks"]
    k = next(i for i, c in enumerate(checks) if c["utilisation"] is not None)
    verdict = verdict_of(tmp_path, changed_at(("situations", 0, "links", j, "checks", k, "utilisation"), 0.5))
    (difference,) = verdict.differences
    assert checks[k]["id"] in difference.where and "sound" in difference.where and difference.where.endswith("utilisation")
    assert "do not rely" in words(verdict)


@pytest.mark.parametrize("part", ["situations", "never_checked", "caution", "assumptions"])
def test_what_was_taken_out_or_put_in_is_found(part: str, tmp_path: Path) -> None:
    less = copy.deepcopy(document())
    less[part].pop()
    assert not verdict_of(tmp_path, less).agrees
    more = copy.deepcopy(document())
    more[part].append(more[part][0])
    assert not verdict_of(tmp_path, more).agrees
    gone = copy.deepcopy(document())
    del gone[part]
    assert not verdict_of(tmp_path, gone).agrees
    assert not verdict_of(tmp_path, {**document(), "approval": "granted"}).agrees


def test_truth_is_no_number(tmp_path: Path) -> None:
    path = next(p for p, x in leaves(document()) if x is True and p[0] != "source")
    assert not verdict_of(tmp_path, changed_at(path, 1)).agrees


def test_one_in_the_seventh_digit_is_said_and_no_difference(tmp_path: Path) -> None:
    """Another machine may round a tie the other way; two in the seventh digit it may not."""
    path = next(p for p in NUMBERS if p[-1] == "utilisation" and re.search(r"\.\d{5,}$", str(value_at(p))))
    x = value_at(path)
    unit = 10.0 ** -len(str(x).split(".")[1])
    one, two = round(x + unit, 9), round(x + 2 * unit, 9)
    verdict = verdict_of(tmp_path, changed_at(path, one))
    assert verdict.agrees and "seventh digit" in " ".join(verdict.notes)
    assert not verdict_of(tmp_path, changed_at(path, two)).agrees


def value_at(path: tuple[Any, ...]) -> Any:
    node: Any = document()
    for part in path:
        node = node[part]
    return node


def test_a_changed_job_in_the_sheet_is_found(tmp_path: Path) -> None:
    """In the source alone, in the printed copy alone, and in both with a fingerprint that was not changed."""
    job = document()["source"]["job"]
    other = job.replace('"12 mm"', '"15 mm"', 1)
    assert other != job
    assert not verify(written(tmp_path, json.dumps(changed_at(("source", "job"), other)))).agrees
    assert not verdict_of(tmp_path, changed_at(("job", "text"), other)).agrees
    both = changed_at(("source", "job"), other)
    both["job"]["text"] = other
    verdict = verify(written(tmp_path, json.dumps(both)))
    assert any("fingerprints" in d.where for d in verdict.differences)
    comment = changed_at(("source", "job"), job + "# a comment\n")
    assert not verify(written(tmp_path, json.dumps(comment))).agrees


def test_another_version_has_no_verdict(tmp_path: Path) -> None:
    """Whichever place of the sheet says so: what differs then could be anything, and nothing of it may be forgiven."""
    for path in (("tool_version",), ("source", "tool_version")):
        with pytest.raises(SheetRefused, match=r"0\.0\.9.*nothing of it could be compared"):
            verdict_of(tmp_path, changed_at(path, "0.0.9"))
    page = sheet.html(result_of(NAME))
    assert page.count(f'"tool_version": "{barrier.__version__}"') == 1
    older = page.replace(f'"tool_version": "{barrier.__version__}"', '"tool_version": "0.0.9"')
    for forged in (older, older.replace("EXCEEDS", "WITHIN")):
        with pytest.raises(SheetRefused, match="could be compared"):
            verify(written(tmp_path, forged, "sheet.html"))
    for form, ending in ((sheet.text, "txt"), (sheet.markdown, "md")):
        text = form(result_of(NAME))
        older = text.replace(barrier.__version__, "0.0.9")
        assert older != text
        with pytest.raises(SheetRefused, match="could be compared"):
            verify(written(tmp_path, older, f"sheet.{ending}"), ROOT / "worked_examples" / f"{NAME}.toml")


def test_letters_that_steer_a_terminal_do_not_reach_it(tmp_path: Path) -> None:
    with pytest.raises(SheetRefused) as refused:
        verdict_of(tmp_path, changed_at(("source", "tool_version"), "\x1b[2J\x1b]0;owned\x07"))
    assert "\x1b" not in str(refused.value) and "\x07" not in str(refused.value)


@pytest.mark.parametrize("path", [("tool_version",), ("ending",), ("never_checked",), ("situations",), ("governing",)])
def test_a_key_that_was_taken_away_is_a_difference(path: tuple[str, ...], tmp_path: Path) -> None:
    shorter = copy.deepcopy(document())
    del shorter[path[0]]
    verdict = verdict_of(tmp_path, shorter)
    assert not verdict.agrees and any(d.where == path[0] and d.printed == "" for d in verdict.differences)


def test_every_ending_and_utilisation_taken_away_is_found(tmp_path: Path) -> None:
    def without(node: Any) -> Any:
        if isinstance(node, dict):
            return {k: without(v) for k, v in node.items() if k not in ("ending", "utilisation")}
        return [without(v) for v in node] if isinstance(node, list) else node

    shorter = without(copy.deepcopy(document()))
    shorter["source"] = document()["source"]
    assert len(verdict_of(tmp_path, shorter).differences) > 20


def test_a_page_hidden_by_a_style_and_replaced_is_found(tmp_path: Path) -> None:
    page = sheet.html(result_of(NAME))
    hidden = page.replace("</style>", "main{display:none}</style>", 1)
    assert hidden != page and not verify(written(tmp_path, hidden, "sheet.html")).agrees
    added = page.replace("</body>", "<p>WITHIN</p></body>", 1)
    assert added != page and not verify(written(tmp_path, added, "sheet.html")).agrees


def test_a_table_of_another_fingerprint_is_named(tmp_path: Path) -> None:
    other = copy.deepcopy(document())
    other["source"]["fingerprints"]["each"]["site"] = "0" * 12
    verdict = verdict_of(tmp_path, other)
    assert verdict.tables == ("site",) and "site" in words(verdict)


# ---------------------------------------------------------------- text and PDF


def test_a_text_sheet_is_compared_with_the_job_beside_it(tmp_path: Path) -> None:
    job = ROOT / "worked_examples" / "everyday_deck.toml"
    text = text_sheet("everyday_deck")
    path = written(tmp_path, text, "sheet.txt")
    assert verify(path, job).bytes_agree
    with pytest.raises(SheetRefused, match="--job"):
        verify(path)
    verdict = verify(written(tmp_path, text.replace("0.99  within", "0.89  within", 1), "sheet.txt"), job)
    (difference,) = verdict.differences
    assert (difference.where, difference.printed, difference.recomputed) == ("base_plate.bed.M1", "0.89", "0.99")
    verdict = verify(written(tmp_path, text.replace("= 149.6 MPa", "= 141.6 MPa", 1), "sheet.txt"), job)
    (difference,) = verdict.differences
    assert re.fullmatch(r"\[\d+\]", difference.where) and difference.printed == "141.6"
    verdict = verify(path, ROOT / "worked_examples" / "garden_deck.toml")
    assert not verdict.agrees


@cache
def short_pdf() -> bytes:
    """A PDF of a few pages, made in a fraction of the time; ``test_pdf_from_the_command`` makes the long one again."""
    made: bytes = sheet.ladder_pdf(ladder_of(NAME))
    return made


def test_a_pdf_is_made_again_from_the_job_it_carries(tmp_path: Path) -> None:
    data = sheet.pdf(result_of(NAME))
    assert read_sheet(written(tmp_path, data, "sheet.pdf")).attached == job_named(NAME).text.decode()
    verdict = verify(written(tmp_path, data, "sheet.pdf"))
    assert verdict.agrees and verdict.bytes_agree
    data = short_pdf()
    at = data.index(b"endstream") - 20
    spoilt = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
    assert not verify(written(tmp_path, spoilt, "sheet.pdf")).agrees
    twice = data.replace(b"%%EOF", b"<</Length 3/Type/EmbeddedFile>>\nstream\nabc\nendstream\n%%EOF")
    with pytest.raises(SheetRefused, match="more than one file"):
        verify(written(tmp_path, twice, "sheet.pdf"))
    without = data.replace(b"/EmbeddedFile", b"/EmbeddedFilm")
    with pytest.raises(SheetRefused, match="--job"):
        verify(written(tmp_path, without, "sheet.pdf"))


def test_a_job_packed_into_a_pdf_does_not_fill_the_memory(tmp_path: Path) -> None:
    bomb = zlib.compress(b"a" * 50_000_000)
    head = f"<</Length {len(bomb)}/Type/EmbeddedFile/Filter/FlateDecode>>\nstream\n".encode()
    with pytest.raises(SheetRefused, match="larger than a job file"):
        verify(written(tmp_path, b"%PDF-1.7\n" + head + bomb + b"\nendstream", "sheet.pdf"))


def test_a_pdf_is_compared_to_the_byte_or_by_its_fingerprint(tmp_path: Path) -> None:
    job = ROOT / "worked_examples" / f"{NAME}.toml"
    data = short_pdf()
    path = written(tmp_path, data, "sheet.pdf")
    assert verify(path, job).bytes_agree
    verdict = verify(path, ROOT / "worked_examples" / "garden_deck.toml")
    assert [d.where for d in verdict.differences] == ["fingerprint of the job file"]
    spoilt = data[:5000] + bytes([data[5000] ^ 1]) + data[5001:]
    assert not verify(written(tmp_path, spoilt, "sheet.pdf"), job).agrees
    older = data.replace(b"Typst 0.15", b"Typst 0.14")
    assert older != data
    with pytest.raises(SheetRefused, match="could not be compared"):
        verify(written(tmp_path, older, "sheet.pdf"), job)


# ---------------------------------------------------------------- HTML


def page_of(result: Result) -> str:
    """A page as the renderer of HTML may make it: visible figures, and the block of data."""
    rows = ""
    for c in result.sound.checks:
        eta = "none" if c.eta is None else f"{c.eta:.2f}"
        rows += f"<tr><td>{c.id}</td><td title='utilisation'>{eta}</td><td>{c.ending}</td></tr>"
    return (
        "<!DOCTYPE html><html lang='en'><head><style>td{color:black}</style></head><body><table>"
        f"{rows}</table><script type='application/json' id='{ELEMENT}'>{embedded(result)}</script></body></html>"
    )


@pytest.fixture
def html(monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(sheet, "html", page_of, raising=False)
    return page_of(result_of(NAME))


def test_a_page_is_compared_piece_by_piece(html: str, tmp_path: Path) -> None:
    assert verify(written(tmp_path, html, "sheet.html")).bytes_agree
    figure = re.search(r"<td>(glass\.\w+)</td><td title='utilisation'>(\d\.\d\d)<", html)
    assert figure
    tampered = html.replace(f">{figure[2]}<", ">0.11<", 1)
    (difference,) = verify(written(tmp_path, tampered, "sheet.html")).differences
    assert (difference.where, difference.printed, difference.recomputed) == (figure[1], "0.11", figure[2])
    ending = html.replace("<td>exceeds</td>", "<td>within</td>", 1)
    (difference,) = verify(written(tmp_path, ending, "sheet.html")).differences
    assert (difference.printed, difference.recomputed) == ("within", "exceeds")
    hidden = html.replace("td{color:black}", "td{display:none}")
    assert not verify(written(tmp_path, hidden, "sheet.html")).agrees
    added = html.replace("</table>", "</table><p>Approval granted</p>")
    assert not verify(written(tmp_path, added, "sheet.html")).agrees


def test_two_jobs_in_a_page_or_half_a_page_are_refused(html: str, tmp_path: Path) -> None:
    twice = html.replace("</body>", f"<script id='{ELEMENT}'>{{}}</script></body>")
    for broken, match in ((twice, "more than one"), (html[: len(html) // 2], "cut off"), ("<html></html>", "--job")):
        with pytest.raises(SheetRefused, match=match):
            verify(written(tmp_path, broken, "sheet.html"))


def test_no_word_of_the_job_ends_the_block() -> None:
    job = job_named(NAME)
    text = job.text.decode() + "# </script><script>alert(1)</script> <!-- \n"
    from barrier.job.read import job_from_text

    result = check(job_from_text(text))
    carried = embedded(result)
    assert "<" not in carried and json.loads(carried) == source(result) and json.loads(carried)["job"] == text


# ---------------------------------------------------------------- broken and hostile


def nested(depth: int) -> str:
    return '{"a":' * depth + "1" + "}" * depth


BROKEN: dict[str, Callable[[], str | bytes]] = {
    "empty": lambda: "",
    "blank": lambda: " \n\n",
    "half": lambda: sheet_json()[:40_000],
    "no sheet": lambda: '{"a": 1}',
    "a list": lambda: "[1, 2]",
    "words": lambda: "hello",
    "bytes": lambda: bytes(range(256)),
    "zip": lambda: b"PK\x03\x04" + bytes(1000),
    "UTF-16": lambda: sheet_json().encode("utf-16"),
    "NaN": lambda: sheet_json().replace('"version": 1', '"version": NaN', 1),
    "twice": lambda: sheet_json().replace('"ending"', '"ending": "within", "ending"', 1),
    "deep": lambda: nested(100_000),
    "rather deep": lambda: nested(60),
    "digits": lambda: '{"format": ' + "9" * 100_000 + "}",
    "no source": lambda: json.dumps({k: v for k, v in document().items() if k != "source"}),
    "source a number": lambda: json.dumps(changed_at(("source",), 5)),
    "job a list": lambda: json.dumps(changed_at(("source", "job"), ["x"])),
    "job empty": lambda: json.dumps(changed_at(("source", "job"), "")),
    "job no TOML": lambda: json.dumps(changed_at(("source", "job"), "= = =")),
    "job huge": lambda: json.dumps(changed_at(("source", "job"), "#" * 1_000_001)),
    "job half a letter": lambda: json.dumps(changed_at(("source", "job"), "# \ud800")),
    "kind": lambda: json.dumps(changed_at(("source", "kind"), "__import__")),
    "changes": lambda: json.dumps(changed_at(("source", "changes"), [{"path": "no.such", "value": {}}])),
    "change of a tree": lambda: json.dumps(changed_at(("source", "changes"), [{"path": "panels", "value": [[[]]]}])),
    "situations": lambda: json.dumps(changed_at(("source", "situations"), [{"name": "x"}])),
    "fingerprints": lambda: json.dumps(changed_at(("source", "fingerprints"), {"each": {"a": "zz"}})),
    "version of the source": lambda: json.dumps(changed_at(("source", "version"), 99)),
    **{
        f"table {name}": lambda name=name: json.dumps(  # type: ignore[misc]
            changed_at(("source", "tables"), [{"name": name, "text": MEASURED}])
        )
        for name in ("../../escape", "/etc/passwd", "a/b", "..", "nul\0", "C:\\x", "no_such_table", "", "site.csv", "x" * 500)
    },
    "table with no grammar": lambda: json.dumps(changed_at(("source", "tables"), [{"name": "site", "text": "junk"}])),
}


@pytest.mark.parametrize("what", BROKEN)
def test_a_broken_sheet_is_refused_in_words(what: str, tmp_path: Path) -> None:
    path = written(tmp_path, BROKEN[what]())
    result = CliRunner().invoke(main, ["verify", str(path)])
    assert result.exit_code == REFUSED and isinstance(result.exception, SystemExit)
    words_of = result.output.strip()
    assert words_of and len(words_of) < 2000 and "Traceback" not in words_of and "barrier-verify-" not in words_of
    assert os.listdir(tmp_path) == ["sheet.json"], "nothing is written beside the sheet"


def test_too_large_missing_and_a_folder_are_refused(tmp_path: Path) -> None:
    large = tmp_path / "large.json"
    with large.open("wb") as f:
        f.truncate(LARGEST + 1)
    for path in (large, tmp_path / "missing.json", tmp_path):
        with pytest.raises(SheetRefused):
            verify(path)


def test_nothing_is_left_in_the_temporary_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "temporary"
    place.mkdir()
    monkeypatch.setenv("TMPDIR", str(place))
    monkeypatch.setattr("tempfile.tempdir", None)
    carried = changed_at(("source", "tables"), [{"name": "timber_en338_2016", "text": MEASURED}])
    verdict = verify(written(tmp_path, json.dumps(carried)))
    assert not verdict.agrees and list(place.iterdir()) == []


# ---------------------------------------------------------------- the command


def test_exit_codes_and_words_of_the_command(tmp_path: Path) -> None:
    path = written(tmp_path, sheet_json())
    result = CliRunner().invoke(main, ["verify", str(path)])
    assert result.exit_code == AGREES and "every byte agrees" in result.output
    tampered = written(tmp_path, json.dumps(changed_at(("ending",), "within")))
    result = CliRunner().invoke(main, ["verify", str(tampered)])
    assert result.exit_code == DIFFERS and "ending: printed within, recomputed exceeds" in result.output


@pytest.mark.parametrize("command", ["check", "ladder", "faults"])
def test_pdf_from_the_command(command: str, tmp_path: Path) -> None:
    job = ROOT / "worked_examples" / f"{NAME}.toml"
    path = tmp_path / "sheet.pdf"
    result = CliRunner().invoke(main, [command, str(job), "--format", "pdf", "--output", str(path)])
    assert result.exit_code in (0, 1, 3), result.output
    assert path.read_bytes().startswith(b"%PDF-") and [p.name for p in tmp_path.iterdir()] == ["sheet.pdf"]
    assert verify(path, job).bytes_agree


def test_a_pdf_is_not_poured_over_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    job = str(ROOT / "worked_examples" / f"{NAME}.toml")
    two = CliRunner().invoke(main, ["check", job, job, "--format", "pdf"])
    assert two.exit_code == REFUSED and "--output" in two.output
    piped = CliRunner().invoke(main, ["check", job, "--format", "pdf"])
    assert piped.stdout_bytes.startswith(b"%PDF-")
