"""Which machines the locked packages have ready-made files for."""

from __future__ import annotations

import platform
import sys
import sysconfig
from dataclasses import dataclass

NEWEST_WITH_PACKAGES = (3, 14)


@dataclass(frozen=True, slots=True)
class Machine:
    """The facts that decide; ``tag`` is what sysconfig calls the platform, as in linux-x86_64."""

    tag: str
    processor: str
    bits: int
    implementation: str
    version: tuple[int, int]


def this_machine() -> Machine:
    """Return the facts about the Python that runs this."""
    return Machine(
        tag=sysconfig.get_platform(),
        processor=platform.machine().lower(),
        bits=64 if sys.maxsize > 2**32 else 32,
        implementation=platform.python_implementation(),
        version=sys.version_info[:2],
    )


def refusal(machine: Machine) -> str | None:
    """Return why the program cannot be installed here, or None where it can.

    Two of the packages, cryptography and the argon2 bindings, decide this:
    they come ready-made for the systems below only, and nothing is compiled
    on a user's machine.
    """
    if machine.implementation != "CPython":
        return f"The ordinary Python (CPython) is needed, and this is {machine.implementation}."
    if machine.bits == 32:
        return "A 64-bit Python is needed, and this one is 32-bit; install the 64-bit Python."
    system = machine.tag.split("-")[0]
    if system == "macosx":
        return _refusal_on_a_mac(machine)
    if machine.tag == "win-arm64":
        return (
            "Two of the packages are not made for Windows on ARM; "
            "install the Python for x64 (amd64), which runs on this machine too."
        )
    if machine.tag in {"win-amd64", "linux-x86_64", "linux-aarch64"}:
        return None
    return (
        f"The packages are not made for this system ({machine.tag}); "
        "use 64-bit Linux (x86 or ARM), Windows (x64) or a Mac with Apple silicon."
    )


def _refusal_on_a_mac(machine: Machine) -> str | None:
    if machine.processor == "arm64":
        return None
    return (
        "Two of the packages, cryptography and the argon2 bindings, are no longer made for Intel "
        "Macs; use a Mac with Apple silicon (and a Python built for it), Windows or Linux."
    )
