"""``python -m barrier``."""

from barrier.cli import main

main()
