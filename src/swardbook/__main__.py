"""``python -m swardbook``."""

from swardbook.cli.main import main

main()
