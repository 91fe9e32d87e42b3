"""``academy calc``: every computation of the platform, from the shell."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import IO, Any

import click

from academy.calculations import (
    CALCULATIONS,
    CATALOGUE,
    BadInput,
    NotComputable,
    UnknownCalculation,
    run,
)


class BadInputRefusal(click.ClickException):
    """Ends the command with sentences on standard error and nothing on standard output."""

    exit_code = 2

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(self.message, err=True)


class NotComputableRefusal(BadInputRefusal):
    """Ends the command where the inputs are well formed but no number follows."""

    exit_code = 3


class CalculationCommand(click.Command):
    """One calculation; its help is written from the inputs it declares."""

    def get_help(self, ctx: click.Context) -> str:
        from academy.cli.calc_help import help_text

        return help_text(CALCULATIONS[self.name or ""])


class CalculationGroup(click.Group):
    """The calculations by name; listing them imports none."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(CATALOGUE)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command:
        if cmd_name not in CATALOGUE:
            raise BadInputRefusal(str(UnknownCalculation(cmd_name)))
        return CalculationCommand(
            cmd_name,
            callback=lambda **given: _compute(cmd_name, **given),
            params=[
                click.Argument(["dash"], required=False, metavar="[-]"),
                click.Option(["--json", "text"], help="the inputs as a JSON object"),
                click.Option(["--file", "path"], help="a file with them; '-' is standard input"),
            ],
        )

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Calculations"):
            formatter.write_dl([(entry.name, entry.says) for entry in CATALOGUE.values()])


@click.command("calc", cls=CalculationGroup, invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Recompute any figure that the platform teaches, shows or decides by.

    academy calc NAME --help shows a calculation's inputs, units and ranges, formula, source and
    caution. Inputs are a JSON object: --json '{...}', --file FILE, or '-' for standard input.
    """
    if ctx.invoked_subcommand is None:
        for entry in CATALOGUE.values():
            click.echo(f"{entry.name:26}{entry.says}")


def _compute(name: str, dash: str | None, text: str | None, path: str | None) -> None:
    inputs = _inputs(_given_text(name, dash, text, path))
    try:
        answer = run(name, inputs)
        # The bytes are UTF-8 whatever the terminal's encoding: JSON is (RFC 8259).
        printed = json.dumps(answer.as_json_object(), ensure_ascii=False, allow_nan=False)
    except BadInput as error:
        raise BadInputRefusal(str(error)) from None
    except NotComputable as error:
        raise NotComputableRefusal(str(error)) from None
    click.echo(printed.encode())


def _given_text(name: str, dash: str | None, text: str | None, path: str | None) -> str:
    given = [source for source in (dash, text, path) if source is not None]
    if len(given) != 1 or dash not in (None, "-"):
        raise BadInputRefusal(
            f"give the inputs once: --json '{{...}}', --file FILE, or '-' for standard input; "
            f"'academy calc {name} --help' lists them"
        )
    if given[0] == "-":
        return _decoded(sys.stdin.buffer.read(), "standard input")
    if text is not None:
        return text
    try:
        return _decoded(Path(given[0]).read_bytes(), given[0])
    except OSError as error:
        raise BadInputRefusal(f"{given[0]}: {error.strerror or error}") from None


def _decoded(data: bytes, source: str) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInputRefusal(f"{source}: is not UTF-8 text") from None


def _inputs(text: str) -> dict[str, object]:
    try:
        inputs = json.loads(text, object_pairs_hook=_each_once, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise BadInputRefusal(
            f"not JSON: {error.msg} at line {error.lineno} column {error.colno}"
        ) from None
    except (ValueError, RecursionError) as error:
        raise BadInputRefusal(f"not JSON that can be read: {error}") from None
    if not isinstance(inputs, dict):
        raise BadInputRefusal('the inputs have to be one JSON object, such as {"value": 1}')
    return inputs


def _each_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"{twice} is given twice")
    return members


def _no_constant(constant: str) -> object:
    raise ValueError(f"{constant} is not a number")
