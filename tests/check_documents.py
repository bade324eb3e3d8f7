"""Check that the documents tell the truth: what they name exists, and nothing is said that must not be.

Run as ``python tests/check_documents.py``; prints what is wrong and exits 1.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "survey_app",
    "geo",
    "tests",
    "synthetic_community",
    "LICENSE",
}
# Where packages come from is not the project's business; it must not hold anybody's download addresses.
FORBIDDEN = re.compile("|".join(("files.python" + "hosted", "pypi" + r"\.org", "registry" + r"\.npmjs", "/wo" + "rk/")))


def tracked() -> list[str]:
    """The files under version control (or to come)."""
    out = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return [line for line in out.stdout.splitlines() if (ROOT / line).exists()]


def commands() -> set[str]:
    """The commands of the command line."""
    from survey_app.cli import app

    return {c.name or c.callback.__name__ for c in app.registered_commands if c.callback is not None}


def steps_that_leave_a_test_out(readme: str) -> list[str]:
    """Whether README's two steps of the tests are all of them: the first is whatever the second is not."""
    asked = re.findall(r"-m pytest .*-m '(.+)'$", readme, re.M)
    if len(asked) != 2 or asked[0] != f"not ({asked[1]})":
        return [f"README.md's two test commands must choose 'not (…)' and '…', so that no test is left out: {asked}."]
    return []


def problems() -> list[str]:
    """Everything that is wrong, a sentence each."""
    found = []
    files = tracked()
    for name in sorted({f.split("/")[0] for f in files}):
        if not name.startswith(".") and name not in TOP_LEVEL:
            found.append(f"{name}: the top level is fixed; move it into one of the packages.")
    readme, developers = (ROOT / "README.md").read_text(), (ROOT / "DEVELOPERS.md").read_text()
    known = commands()
    for command in sorted(set(re.findall(r"^(?:\.venv/bin/)?heater-survey ([a-z]+)", readme, re.M)) - known):
        found.append(f"README.md names the command '{command}', which does not exist.")
    for command in sorted(c for c in known if f"heater-survey {c}" not in readme + developers):
        found.append(f"Neither document shows the command '{command}'.")
    found += steps_that_leave_a_test_out(readme)
    for path in sorted(
        set(re.findall(r"`((?:survey_app|geo|tests|synthetic_community)/[\w/.]+)`", readme + developers))
    ):
        if not (ROOT / path).exists():
            found.append(f"A document names `{path}`, which does not exist.")
    for module in sorted(p.name for p in (ROOT / "survey_app").iterdir() if not p.name.startswith("_")):
        stem = module.removesuffix(".py")
        if stem not in developers:
            found.append(f"DEVELOPERS.md does not say what survey_app/{module} is for.")
    for file in files:
        path = ROOT / file
        if path.suffix in {".py", ".md", ".toml", ".css", ".js", ".csv", ".json", ""} and FORBIDDEN.search(
            path.read_text(encoding="utf-8", errors="replace")
        ):
            found.append(f"{file} names a package registry's host or a path of somebody's machine.")
    return found


if __name__ == "__main__":
    wrong = problems()
    print("\n".join(wrong) or "The documents hold.")
    sys.exit(bool(wrong))
