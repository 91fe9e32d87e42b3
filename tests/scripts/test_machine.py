"""Which machines are served, decided from facts alone: most of them are not here to try."""

from __future__ import annotations

import pytest

from machine import Machine, refusal, this_machine

SERVED = [
    pytest.param("linux-x86_64", "x86_64", id="Linux on x86"),
    pytest.param("linux-aarch64", "aarch64", id="Linux on ARM"),
    pytest.param("win-amd64", "amd64", id="Windows"),
    pytest.param("win-amd64", "arm64", id="an x64 Python on Windows on ARM"),
    pytest.param("macosx-11.0-arm64", "arm64", id="Apple silicon"),
    pytest.param("macosx-10.9-universal2", "arm64", id="a universal Python on Apple silicon"),
]
REFUSED = [
    pytest.param("macosx-10.9-x86_64", "x86_64", "Intel Macs", id="an Intel Mac"),
    pytest.param("macosx-10.9-universal2", "x86_64", "Intel Macs", id="universal, on an Intel Mac"),
    pytest.param("win-arm64", "arm64", "Python for x64", id="an ARM Python on Windows"),
    pytest.param("linux-riscv64", "riscv64", "linux-riscv64", id="another processor"),
    pytest.param("freebsd-14.1-release-amd64", "amd64", "freebsd-14.1", id="another system"),
]


def a_machine(
    tag: str = "linux-x86_64", processor: str = "x86_64", bits: int = 64, made_by: str = "CPython"
) -> Machine:
    return Machine(tag, processor, bits, made_by, (3, 11))


@pytest.mark.parametrize(("tag", "processor"), SERVED)
def test_the_packages_are_made_for_these_machines(tag: str, processor: str) -> None:
    assert refusal(a_machine(tag, processor)) is None


@pytest.mark.parametrize(("tag", "processor", "said"), REFUSED)
def test_other_machines_get_one_sentence(tag: str, processor: str, said: str) -> None:
    sentence = refusal(a_machine(tag, processor))
    assert sentence is not None
    assert said in sentence
    assert sentence.endswith(".")


@pytest.mark.parametrize("tag", ["win32", "linux-i686", "linux-x86_64", "linux-armv7l"])
def test_a_32_bit_python_is_refused_on_any_system(tag: str) -> None:
    assert "64-bit" in str(refusal(a_machine(tag, bits=32)))


def test_another_kind_of_python_is_refused_by_name() -> None:
    assert "PyPy" in str(refusal(a_machine(made_by="PyPy")))


def test_the_machine_that_runs_this_is_served() -> None:
    assert refusal(this_machine()) is None
