"""What runs in the process of its own that makes one PDF: the library, data in by the standard input, bytes out.

It is handed to the interpreter as text and imports nothing of ours: :mod:`barrier.sheet.formats.pdf_template` starts it. Exit
code 3 says that the library refused the document, and why stands on the standard error.
"""

import json
import sys

REFUSED = 3


def main() -> None:
    """Compile what stands on the standard input."""
    asked = json.loads(sys.stdin.buffer.read())
    sys.path[:] = asked["path"]
    import typst

    try:
        made = typst.compile(
            asked["template"].encode(),
            format="pdf",
            sys_inputs=asked["inputs"],
            ignore_system_fonts=True,
            timestamp=0,
            pdf_standards=["ua-1"],
        )
    except typst.TypstError as refused:
        sys.stderr.buffer.write(str(refused).encode())
        raise SystemExit(REFUSED) from None
    assert isinstance(made, bytes)
    sys.stdout.buffer.write(made)


if __name__ == "__main__":
    main()
