"""The floor of --help: a typer program of so many commands that imports nothing else. python lazy_program.py COUNT --help"""

from __future__ import annotations

import sys

import typer

app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, pretty_exceptions_enable=False, help="A floor.")


def command(number: int) -> None:
    def do(project: str, out: str | None = None, paper: str | None = None) -> None:
        """Do one thing of several, told in a sentence."""

    do.__name__ = f"command{number}"
    app.command(f"command{number}")(do)


def main() -> None:
    for number in range(int(sys.argv.pop(1))):
        command(number)
    app()


if __name__ == "__main__":
    main()
