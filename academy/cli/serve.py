"""``academy serve``: prepare the database, say how to sign in, serve the site."""

from __future__ import annotations

import os
import sys
from dataclasses import replace

import click

from academy.cli.addresses import CannotServe, address, cannot_listen
from academy.services.demo_accounts import ACCOUNTS
from academy.services.first_start import Started
from academy.settings import Settings, SettingsError, is_loopback, read_settings

THREADS = 4
CONNECTIONS = 1000  # a class of a hundred and fifty keeps its connections open


@click.command()
@click.option("--host", help="Address to listen on (127.0.0.1; with --lan the whole network).")
@click.option("--port", default=8000, show_default=True, type=click.IntRange(1, 65535))
@click.option("--lan", is_flag=True, help="Serve phones on this network over HTTPS.")
@click.option("--empty", is_flag=True, help="Start a real shop instead of the demonstration.")
@click.option("--demo", is_flag=True, help="Allow the demonstration on an outside address.")
def command(host: str | None, port: int, lan: bool, empty: bool, demo: bool) -> None:
    """Serve the site and print how to sign in."""
    host = host or ("0.0.0.0" if lan else "127.0.0.1")
    settings = _settings(host, port, lan)
    started = _prepare(settings, empty)
    _refuse_mixture(started, empty, demo, host)
    _say(settings, started)
    settings = replace(settings, demo=started.demo)
    if lan:
        _serve_on_the_network(settings, host, port)
    else:
        _serve(settings, host, port)
    click.echo("Stopped.")


def _settings(host: str, port: int, lan: bool) -> Settings:
    try:
        settings = read_settings(base_url=address(host, port, "https" if lan else "http"))
    except SettingsError as fault:
        raise CannotServe(str(fault)) from None
    if not lan:
        return settings
    from academy.cli.shop_network import refuse_no_network

    refuse_no_network(settings, host, port, _address_is_fixed())
    return replace(settings, own_authority=True)


def _address_is_fixed() -> bool:
    return bool(os.environ.get("ACADEMY_BASE_URL"))


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
    if started.demo and not demo and not is_loopback(host):
        raise CannotServe(
            "The demonstration's passwords are public, so it is refused on an outside address;"
            " add --demo if that is what you want, or start a real shop with --empty."
        )


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
        raise cannot_listen(host, port, fault) from None


def _serve_on_the_network(settings: Settings, host: str, port: int) -> None:
    from academy.cli.lan import serve_on_the_network
    from academy.cli.shop_network import ShopNetwork
    from academy.web.context import wall_clock

    network = ShopNetwork(settings, host, port, _address_is_fixed(), wall_clock)
    serve_on_the_network(network, say=click.echo)
