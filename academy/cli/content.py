"""``academy content``: check and preview the course, list its figures, coverage and facts."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from pathlib import Path

import click

from academy.content import Compiled, Problem, compile_course
from academy.domain.curriculum.coverage import ObjectiveCoverage, objective_coverage
from academy.domain.curriculum.findings import Severity

folder = click.argument(
    "path", required=False, type=click.Path(file_okay=False, exists=True, path_type=Path)
)


@click.group()
def content() -> None:
    """Check, survey and preview the course in content/."""


command = content


@content.command()
@click.option("--json", "as_json", is_flag=True, help="Print the counts and problems as JSON.")
@folder
def check(path: Path | None, as_json: bool) -> None:
    """List every problem of the course as file:line: sentence.

    The exit status is 1 if there is any error; warnings alone leave it at 0.
    """
    root = path or default_root()
    compiled = compiled_with_progress(root)
    if as_json:
        click.echo(json.dumps(report(compiled, root), ensure_ascii=False, indent=2))
    else:
        print_problems(compiled, root)
    sys.exit(1 if compiled.errors else 0)


@content.command()
def figures() -> None:
    """List the figures that can be drawn, and their parameters."""
    from academy.figures import NAMES

    for name, kind in NAMES.items():
        click.echo(f"{name}: {kind.says}")
        for parameter in kind.parameters:
            default = "" if parameter.default in (None, "") else f" (default {parameter.default})"
            click.echo(f"    {parameter.name}: {parameter.says}; {parameter.allowed}{default}")


@content.command()
@folder
def coverage(path: Path | None) -> None:
    """Show which lessons, questions, tasks and drills serve each objective."""
    draft = compile_course(path or default_root()).draft
    for module in draft.modules:
        click.echo(f"{module.number} {module.title} ({module.id})")
        for covered in objective_coverage(draft.modules, draft.tasks, draft.drills):
            if covered.objective.module_id == module.id:
                print_coverage(covered)


@content.command()
@click.argument("name")
@folder
def fact(name: str, path: Path | None) -> None:
    """Show a fact and every place that leans on it."""
    from academy.content.quantities import fact_text

    root = path or default_root()
    compiled = compile_course(root)
    known = {fact.id: fact for fact in compiled.draft.facts}
    if name not in known:
        raise click.UsageError(f"there is no fact {name}")
    found = known[name]
    click.echo(f"{name}: {fact_text(found)}")
    click.echo(f"{found.says}; {found.source}; confidence {found.confidence}")
    for place in compiled.fact_places.get(name, ()):
        click.echo(f"{root / place.path}:{place.line}")


@content.command()
@click.option("--port", default=8100, show_default=True, type=click.IntRange(1, 65535))
@folder
def preview(port: int, path: Path | None) -> None:
    """Show the course on this computer as trainees will see it; pages follow each save."""
    import tempfile

    import waitress

    from academy.web.preview.app import create_preview

    with tempfile.TemporaryDirectory() as scratch:
        app = create_preview((path or default_root()).resolve(), Path(scratch))
        click.echo(f"The preview is at http://127.0.0.1:{port}/preview . Stop with Ctrl-C.")
        try:
            waitress.serve(app, host="127.0.0.1", port=port, threads=4, ident=None)
        except OSError as fault:
            reason = fault.strerror or str(fault)
            raise click.ClickException(f"Cannot listen on port {port}: {reason}") from None


def default_root() -> Path:
    """Return ``content`` here, else the one beside the program."""
    here = Path("content")
    return here if here.is_dir() else Path(__file__).parents[2] / "content"


def compiled_with_progress(root: Path) -> Compiled:
    """Compile; somebody who waits at a terminal sees how far it is."""
    if not sys.stderr.isatty():
        return compile_course(root)
    with click.progressbar(length=1, label="Reading the course", file=sys.stderr) as bar:

        def progress(done: int, of: int) -> None:
            bar.length = of
            bar.update(done - bar.pos)

        return compile_course(root, progress=progress)


def print_problems(compiled: Compiled, root: Path) -> None:
    """Print a line for each problem, then how many there are."""
    for problem in compiled.problems:
        click.echo(line_of(problem, root))
    counts = compiled.counts
    errors = len(compiled.errors)
    click.echo(
        f"{counts.modules} modules, {counts.lessons} lessons, {counts.questions} questions: "
        f"{errors} errors, {len(compiled.problems) - errors} warnings"
    )


def line_of(problem: Problem, root: Path) -> str:
    """Return a problem as an editor can follow it."""
    note = "warning: " if problem.severity is Severity.WARNING else ""
    return f"{root / problem.path}:{problem.line}: {note}{problem.message}"


def report(compiled: Compiled, root: Path) -> dict[str, object]:
    """Return the counts and the problems for ``--json``."""
    return {
        **asdict(compiled.counts),
        "problems": [
            {
                "path": str(root / problem.path),
                "line": problem.line,
                "severity": problem.severity.value,
                "message": problem.message,
            }
            for problem in compiled.problems
        ],
    }


def print_coverage(covered: ObjectiveCoverage) -> None:
    """Print what serves one objective, a line for each kind of thing."""
    objective = covered.objective
    must = ", must know" if objective.must_know else ""
    asked = ", ".join(f"{count} {level.value}" for level, count in covered.questions.items())
    click.echo(f"  {objective.id} ({objective.kind.value}{must})")
    click.echo(f"    lessons    {', '.join(covered.lessons) or 'none'}")
    click.echo(f"    questions  {covered.asked} ({asked})")
    click.echo(f"    tasks      {', '.join(covered.tasks) or 'none'}")
    click.echo(f"    drills     {', '.join(covered.drills) or 'none'}")
