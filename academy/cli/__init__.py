"""The command line: each command reads its settings, calls one service, prints."""

from __future__ import annotations

from importlib import import_module

import click

INTERRUPTED = 130
COMMANDS = {
    "calc": "academy.cli.calc",
    "content": "academy.cli.content",
    "serve": "academy.cli.serve",
}


class LazyGroup(click.Group):
    """Imports a command's module when it is asked for, so that each stays quick to start."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        command: click.Command = import_module(module).command
        return command

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; Ctrl-C ends it in a sentence, whatever it was doing."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            click.echo("Stopped. Run the same command again to go on.", err=True)
            ctx.exit(INTERRUPTED)


@click.group(cls=LazyGroup)
def main() -> None:
    """Train people to polish car paint by machine, and prove that they can."""
