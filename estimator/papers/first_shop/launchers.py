"""Launchers for people who never type a command: the folder and the program in; small scripts by file name out.

One prices the workbooks that are dropped onto it, one watches the folder. Each says what is wrong and stays open until a key is
pressed. Every path stands between quotes of its own system's kind, so that blanks, umlauts, apostrophes and & do no harm.
What was dropped is sorted out in `estimator/dropped.py`, in one place for all systems.
"""

from __future__ import annotations

from typing import Literal

Machine = Literal["windows", "macos", "linux"]
PRICE, WATCH = "price a workbook", "watch this folder"
_MOVED = "The program is not where it was when this file was made."
_AGAIN = "Install it again, run estimator start for a new folder, and take the launchers from there."


def launchers(*, machine: Machine, python: str, folder: str, home: str = "") -> dict[str, bytes]:
    """The launchers of one kind of computer; `python` is the program that runs ours, `folder` where the launchers lie.

    `home` is the person's own folder on Windows: it is named by its variable there, since its name may hold any letters.
    """
    match machine:
        case "windows":
            return {f"{name}.cmd": _cmd(name, python=_below_home(python, home)) for name in (PRICE, WATCH)}
        case "macos":
            return {f"{name}.command": _shell(name, python=python) for name in (PRICE, WATCH)}
        case "linux":
            scripts = {f"{name}.sh": _shell(name, python=python) for name in (PRICE, WATCH)}
            return scripts | {f"{name}.desktop": _desktop(name, folder=folder) for name in (PRICE, WATCH)}


def _runs(name: str, *, here: str, under: str) -> str:
    """The words behind the program's name. Papers go below the launcher's folder: a window may open in any other."""
    return f'-m estimator watch "{here}" --out "{here}{under}reports"' if name == WATCH else f'-m estimator.dropped "{here}"'


def _shell(name: str, *, python: str) -> bytes:
    """A script for macOS and Linux; it works from whatever folder it is called."""
    lines = (
        "#!/bin/sh",
        f"# {name}: made by estimator start. It stays open until Enter is pressed.",
        f"python={shell_quoted(python)}",
        "here=$(CDPATH='' cd -- \"$(dirname -- \"$0\")\" && pwd)",
        "if \"$python\" -P -c 'import estimator' 2>/dev/null; then",
        f'    "$python" -P {_runs(name, here="$here", under="/")} "$@"',
        "    code=$?",
        "else",
        f"    echo '{_MOVED}'",
        '    printf \'It was: %s\\n\' "$python"',
        f"    echo '{_AGAIN}'",
        "    code=2",
        "fi",
        "printf '\\nPress Enter to close this window. '",
        "read -r _",
        'exit "$code"',
    )
    return ("\n".join(lines) + "\n").encode("utf-8")


def shell_quoted(text: str) -> str:
    """A text that a shell takes as it stands.

    >>> print(shell_quoted("/home/jo/O'Hara & Söhne/python"))
    '/home/jo/O'\\''Hara & Söhne/python'
    """
    return "'" + text.replace("'", "'\\''") + "'"


def _desktop(name: str, *, folder: str) -> bytes:
    """An icon for Linux that runs the script beside it in a window of its own."""
    script = f"{folder.rstrip('/')}/{name}.sh"
    does = "Drop a workbook here and it is priced" if name == PRICE else "Prices a job again whenever its workbook is saved"
    lines = (
        "[Desktop Entry]",
        "Type=Application",
        "Version=1.0",
        f"Name={name[:1].upper()}{name[1:]}",
        f"Comment={does}",
        f"Exec=sh {desktop_quoted(script)}{' %F' if name == PRICE else ''}",
        "Icon=x-office-spreadsheet",
        "Terminal=true",
        "Categories=Office;",
    )
    return ("\n".join(lines) + "\n").encode("utf-8")


def desktop_quoted(text: str) -> str:
    """A text as one word of an Exec line: quoted for the command, then for the file in which the line stands.

    >>> print(desktop_quoted("/home/jo/50 % & more/price.sh"))
    "/home/jo/50 %% & more/price.sh"
    """
    quoted = "".join(f"\\{sign}" if sign in '"`$\\' else sign for sign in text)
    return '"' + quoted.replace("\\", "\\\\").replace("%", "%%") + '"'


def _below_home(path: str, home: str) -> str:
    """A path as a Windows script may hold it: a % twice, and the person's own folder by its variable.

    >>> _below_home(r"C:\\Users\\Jörg\\50 % more\\python.exe", r"C:\\Users\\Jörg")
    '%USERPROFILE%\\\\50 %% more\\\\python.exe'
    """
    inside = home and path.casefold().startswith(f"{home.casefold()}\\")
    return f"%USERPROFILE%{path[len(home) :].replace('%', '%%')}" if inside else path.replace("%", "%%")


def _cmd(name: str, *, python: str) -> bytes:
    """A script for Windows. It ends with exit, so that nothing behind an & in a dropped name is ever run as a command.

    Names are put into variables while ! is an ordinary sign, and taken out as !NAME!, where & and ^ and % are ordinary too.
    """
    lines = (
        "@echo off",
        f"rem {name}: made by estimator start. It stays open until a key is pressed.",
        "setlocal DisableDelayedExpansion",
        "chcp 65001 >nul",
        f"title {name}",
        'set "PYTHONUTF8=1"',
        f'set "ESTIMATOR_PYTHON={python}"',
        'set "ESTIMATOR_FOLDER=%~dp0."',
        "setlocal EnableDelayedExpansion",
        'set "ESTIMATOR_DROPPED=!cmdcmdline!"',
        '"!ESTIMATOR_PYTHON!" -P -c "import estimator" 2>nul',
        "if errorlevel 1 goto moved",
        f'"!ESTIMATOR_PYTHON!" -P {_runs(name, here="!ESTIMATOR_FOLDER!", under=chr(92))}',
        "goto stay",
        ":moved",
        f"echo {_MOVED}",
        "echo It was: !ESTIMATOR_PYTHON!",
        f"echo {_AGAIN}",
        ":stay",
        "echo.",
        "pause",
        "exit",
    )
    return ("\r\n".join(lines) + "\r\n").encode("utf-8")
