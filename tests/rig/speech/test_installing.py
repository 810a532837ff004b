"""What a voice needs is planned and installed by pip, and every way it fails is one sentence."""

from __future__ import annotations

import subprocess
import sys

import pytest

from caller.rig.speech.installing import NotInstalled, Package, install, planned_packages, run_pip
from caller.rig.speech.sources import SOURCES
from tests.fakes.pip import ScriptedPip, row

HIBARI = SOURCES["hibari"]


def test_the_plan_is_pips_own_with_the_licence_that_each_package_states() -> None:
    pip = ScriptedPip(
        [
            row("hibari-tts", "0.2.1", license="Apache-2.0"),
            row("onnxruntime", "1.32.0", license_expression="MIT", license="something else"),
            row("protobuf", "7", classifier=["Topic :: Software", "License :: OSI Approved :: BSD License"]),
            row("packaging", "26", license="x" * 5000),
        ]
    )
    assert planned_packages(HIBARI, pip) == (
        Package("hibari-tts", "0.2.1", "Apache-2.0"),
        Package("onnxruntime", "1.32.0", "MIT"),
        Package("protobuf", "7", "BSD License"),
        Package("packaging", "26", ""),
    )
    assert str(Package("a", "1", "MIT")) == "a 1 (MIT)"
    assert str(Package("a", "1")) == "a 1"


def test_only_wheels_are_taken_and_a_plan_installs_nothing() -> None:
    pip = ScriptedPip()
    planned_packages(HIBARI, pip)
    install(HIBARI, pip)
    assert "--dry-run" in pip.asked[0]
    assert "--dry-run" not in pip.asked[1]
    for arguments in pip.asked:
        assert arguments[arguments.index("--only-binary") + 1] == ":all:"
        assert arguments[-1] == "hibari-tts"


@pytest.mark.parametrize(
    ("fails", "says"),
    [
        ("WARNING: slow\nERROR: No matching distribution found for hibari-tts\n", "No matching distribution found"),
        ("Killed", "Killed"),
        ("\n", "pip gives no reason"),
        (OSError("no such file"), "pip can't be started"),
        (subprocess.TimeoutExpired("pip", 1), "pip takes too long"),
    ],
)
def test_a_failure_is_one_sentence_with_what_to_do(fails: str | Exception, says: str) -> None:
    with pytest.raises(NotInstalled) as met:
        install(HIBARI, ScriptedPip(fails=fails))
    assert says in str(met.value)
    assert f"install hibari-tts into {sys.prefix}" in str(met.value)
    assert "\n" not in str(met.value)


@pytest.mark.parametrize("plan", [[{}], ["x"], [{"metadata": {}}]])
def test_a_plan_that_can_not_be_read_is_told(plan: list[object]) -> None:
    with pytest.raises(NotInstalled, match="plan can't be read"):
        planned_packages(HIBARI, ScriptedPip(plan))  # type: ignore[arg-type]


def test_an_environment_without_pip_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(NotInstalled, match="has no pip"):
        install(HIBARI, ScriptedPip())


def test_pip_is_this_environments_own() -> None:
    done = run_pip(["--version"], 60)
    assert done.returncode == 0
    assert sys.prefix in done.stdout
