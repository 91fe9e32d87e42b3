"""``academy serve``: prepare the database, say how to sign in, serve the site."""

from __future__ import annotations

import ipaddress
import socket
import sys
from dataclasses import replace

import click

from academy.services.demo_accounts import ACCOUNTS
from academy.services.first_start import Started
from academy.settings import Settings, SettingsError, read_settings

THREADS = 4
CONNECTIONS = 1000  # a class of a hundred and fifty keeps its connections open


class CannotServe(click.ClickException):
    """A reason not to start, in one sentence."""


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to listen on.")
@click.option("--port", default=8000, show_default=True, type=click.IntRange(1, 65535))
@click.option("--empty", is_flag=True, help="Start a real shop instead of the demonstration.")
@click.option("--demo", is_flag=True, help="Allow the demonstration on an outside address.")
def command(host: str, port: int, empty: bool, demo: bool) -> None:
    """Serve the site and print how to sign in."""
    try:
        settings = read_settings(base_url=_address(host, port))
    except SettingsError as fault:
        raise CannotServe(str(fault)) from None
    started = _prepare(settings, empty)
    _refuse_mixture(started, empty, demo, host)
    _say(settings, started)
    _serve(replace(settings, demo=started.demo), host, port)


def _address(host: str, port: int) -> str:
    """Return the address people type; for 'every address' the one this machine has on the network."""
    shown = _outside_address() if host in {"0.0.0.0", "::"} else host
    return f"http://[{shown}]:{port}" if ":" in shown else f"http://{shown}:{port}"


def _outside_address() -> str:
    # connecting a datagram socket sends nothing; it only asks which own address would be used
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address, RFC 5737
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


def _prepare(settings: Settings, empty: bool) -> Started:
    from academy.content.library import CourseLibrary
    from academy.files.photographs import PhotographStore
    from academy.services.first_start import first_start
    from academy.store.database import open_database
    from academy.store.schema import upgrade
    from academy.web.context import wall_clock

    database = open_database(settings.database_url)
    course = CourseLibrary(settings.content, kept_at=settings.last_good_course).course
    if not course.digest and not empty:
        raise CannotServe(
            "The course in content/ has errors, so there is nothing to show;"
            " 'academy content check' lists them."
        )
    try:
        upgrade(database)
        with database.writing() as session:
            return first_start(
                session,
                course=course,
                empty=empty,
                now=wall_clock(),
                photographs=PhotographStore(settings.photographs_url),
            )
    finally:
        database.close()


def _refuse_mixture(started: Started, empty: bool, demo: bool, host: str) -> None:
    if started.demo and empty:
        raise CannotServe(
            "This installation holds the demonstration; start a real shop in another folder with"
            " ACADEMY_INSTANCE, or move what lies in instance/ away first."
        )
    if started.demo and not demo and not _loopback(host):
        raise CannotServe(
            "The demonstration's passwords are public, so it is refused on an outside address;"
            " add --demo if that is what you want, or start a real shop with --empty."
        )


def _loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _say(settings: Settings, started: Started) -> None:
    click.echo(f"The academy is at {settings.base_url}")
    if started.demo:
        click.echo("An invented shop is loaded. Sign in as")
        for account in ACCOUNTS:
            click.echo(
                f"  {account.says:<11} name: {account.sign_in_name:<11} password: {account.password}"
            )
    elif started.invitation_token:
        click.echo("A real shop waits for its owner. This link works once:")
        click.echo(f"  {settings.base_url}/invitations/{started.invitation_token}")
    click.echo("Stop with Ctrl-C.")
    sys.stdout.flush()


def _serve(settings: Settings, host: str, port: int) -> None:
    import waitress

    from academy.web.app import create_app

    app = create_app(settings)
    try:
        waitress.serve(
            app,
            host=host,
            port=port,
            threads=THREADS,
            connection_limit=CONNECTIONS,
            ident=None,
            url_scheme=settings.base_url.split(":", 1)[0],
        )
    except OSError as fault:
        raise CannotServe(f"Cannot listen on {host}:{port}: {fault.strerror or fault}") from None
