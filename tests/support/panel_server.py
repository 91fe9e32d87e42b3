"""A real process that serves the small invented course: ``python -m tests.support.panel_server``.

It takes the instance's folder, the database's address and the port.  It is
made to be killed: nothing is tidied up when it ends.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from waitress import serve

from academy.settings import read_settings
from academy.store.database import open_database
from academy.web.app import create_app
from tests.support.clock import NOW
from tests.support.panel_forms import SmallLibrary

if TYPE_CHECKING:
    from academy.content.library import CourseLibrary


def main(instance: str, database_url: str, port: int) -> None:
    """Serve until somebody kills it."""
    settings = read_settings({"ACADEMY_INSTANCE": instance})
    library: CourseLibrary = SmallLibrary()  # type: ignore[assignment]
    app = create_app(
        settings, database=open_database(database_url), library=library, now=lambda: NOW
    )
    serve(app, host="127.0.0.1", port=port, threads=4)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
