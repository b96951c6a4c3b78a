"""``python -m swardbook``."""

from swardbook.cli.front import main

main()
