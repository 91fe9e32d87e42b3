"""What a page lacks when it came over plain HTTP from another machine, in a sentence.

Browsers keep nothing for offline use there (Secure Contexts, W3C), and nothing
that is typed is hidden from the network.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import request

from academy.settings import is_loopback
from academy.web.context import academy
from academy.web.language import gettext as _


def what_is_missing() -> str:
    """Return the sentence for this request, or nothing where nothing is missing."""
    host = urlsplit(f"//{request.host}").hostname or ""
    if academy().settings.secure or is_loopback(host):
        return ""
    return _(
        "This page came over plain HTTP: anybody on this network can read what is typed here,"
        " passwords too, and this device keeps no page for when the signal drops. Started with"
        " --lan, the academy serves HTTPS."
    )
