"""`python -m packet` is the command `packet`."""

from packet.cli import main

main()
