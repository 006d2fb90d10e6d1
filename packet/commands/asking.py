"""Commands that answer on the terminal and write nothing."""

from __future__ import annotations

from typing import Annotated

import typer

from packet.commands.common import Project, plan_of, tell, warn


def check(project: Project) -> None:
    """Whether it closes, folds and packs: figures and warnings. Writes nothing.

    Example: packet check hut.yaml
    """
    from packet.summary import summary

    plan = plan_of(project)
    for line in summary(plan):
        tell(line)
    warn(plan)


def figures(
    project: Project,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object: mm, m2, m3, degrees, kg, N, s.")] = False,
) -> None:
    """Every number the packet rests on.

    Example: packet figures hut.yaml --json
    """
    import json

    from packet.figures import figures as compute
    from packet.site.figures import site_figures
    from packet.summary import summary

    plan = plan_of(project)
    if as_json:
        typer.echo(json.dumps(compute(plan) | {"site": site_figures(plan)}, indent=1, ensure_ascii=False))
        return
    for line in summary(plan, everything=True):
        tell(line)
    warn(plan)
