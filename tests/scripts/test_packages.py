"""pip's words, made short: progress, configuration and failures."""

from __future__ import annotations

import pytest

from packages import Progress, failure, kept_configuration, plain_environment

LOCK = """\
# made by a tool
click==8.5.1 \\
    --hash=sha256:00
numpy==2.4.6 ; python_full_version < '3.12' \\
    --hash=sha256:01
numpy==2.5.5 ; python_full_version >= '3.12' \\
    --hash=sha256:02
Flask-Login==0.6.3 \\
    --hash=sha256:03
"""
NO_INDEX = """\
WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after \
connection broken by 'NewConnectionError: Failed to establish a new connection: [Errno 111] \
Connection refused': /simple/click/
ERROR: Could not find a version that satisfies the requirement click==8.5.1 (from versions: none)
ERROR: No matching distribution found for click==8.5.1
"""
NO_WHEEL = """\
ERROR: Could not find a version that satisfies the requirement nh3==0.3.8 (from versions: 0.2)
ERROR: No matching distribution found for nh3==0.3.8
"""
ALTERED = """\
ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If you have updated the \
package versions, please update the hashes. Otherwise, examine the package contents carefully.
    click==8.5.1 from file:///wheels/click-8.5.1-py3-none-any.whl:
"""
UNTRUSTED = """\
WARNING: Retrying (Retry(total=4)) after connection broken by 'SSLError(SSLCertVerificationError(1, \
'[SSL: CERTIFICATE_VERIFY_FAILED] certificate verify failed: self-signed certificate'))': /simple/
ERROR: No matching distribution found for click==8.5.1
"""
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n"


def test_progress_counts_what_applies_here_and_names_it() -> None:
    progress = Progress(LOCK)
    said = [
        progress.line(line)
        for line in (
            "Looking in links: /opt/some wheels\n",
            "Ignoring numpy: markers 'python_full_version >= \"3.12\"' don't match\n",
            "Collecting click==8.5.1 (from -r /a copy/requirements.lock (line 2))\n",
            "  Using cached click-8.5.1-py3-none-any.whl (99 kB)\n",
            "Processing /opt/some wheels/numpy-2.4.6-cp311-x.whl (from -r /b/requirements.lock)\n",
            "Processing c:\\wheels\\Flask_Login-0.6.3-py3-none-any.whl\n",
            "Installing collected packages: click, numpy, Flask-Login\n",
            "Successfully installed click-8.5.1\n",
        )
    ]
    assert [line for line in said if line] == [
        "Installing 1 of 3: click",
        "Installing 2 of 3: numpy",
        "Installing 3 of 3: Flask_Login",
        "Unpacking all 3",
    ]


def test_progress_never_counts_past_its_total() -> None:
    progress = Progress("")
    assert progress.line("Collecting click==8.5.1\n") == "Installing 1 of 1: click"


def test_a_users_index_and_proxy_are_kept_and_the_rest_is_not() -> None:
    listing = "\n".join(
        [
            ":env:.find-links='/wheels'",
            "global.constraint='/nowhere/constraints.txt'",
            "global.index-url='http://packages.example/simple'",
            "global.extra-index-url='file:///a\\nfile:///b'",
            "global.proxy='http://proxy.example:3128'",
            "install.user='true'",
            "install.timeout='60'",
            "freeze.timeout='5'",
            "not a setting",
        ]
    )
    assert kept_configuration(listing) == {
        "PIP_FIND_LINKS": "/wheels",
        "PIP_INDEX_URL": "http://packages.example/simple",
        "PIP_EXTRA_INDEX_URL": "file:///a\nfile:///b",
        "PIP_PROXY": "http://proxy.example:3128",
        "PIP_TIMEOUT": "60",
    }


def test_the_environment_variable_wins_over_the_file_as_in_pip() -> None:
    listing = "global.index-url='http://file.example/'\n:env:.index-url='http://typed.example/'"
    assert kept_configuration(listing) == {"PIP_INDEX_URL": "http://typed.example/"}


def test_a_foreign_python_path_does_not_reach_our_python() -> None:
    given = {"PYTHONPATH": "/elsewhere", "PYTHONHOME": "/other", "PATH": "/bin", "PYTHONUTF8": "1"}
    assert plain_environment(given) == {"PATH": "/bin", "PYTHONUTF8": "1"}


@pytest.mark.parametrize(
    ("output", "said"),
    [
        pytest.param(NO_INDEX, "the package index does not answer", id="no network"),
        pytest.param(NO_WHEEL, "no ready-made package of nh3", id="no package for this machine"),
        pytest.param(ALTERED, "damaged or altered", id="a wrong hash"),
        pytest.param(UNTRUSTED, "PIP_CERT", id="a certificate nobody trusts"),
        pytest.param(FULL, "The disk is full", id="no space"),
        pytest.param(
            "ERROR: Something new\n", "Something new.", id="anything else, in pip's words"
        ),
        pytest.param("", "no reason given", id="nothing at all"),
    ],
)
def test_a_failed_installation_is_told_in_one_sentence(output: str, said: str) -> None:
    sentence = failure(output)
    assert said in sentence
    assert "\n" not in sentence
    assert sentence.endswith(".")
