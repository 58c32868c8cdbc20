"""The words that may be typed at the prompt, in; what was asked for, or a sentence that says what was meant, out.

A command is one `command(...)` line: its name, what it does in one plain sentence, and one example. Its help fits a screen of
80 by 24. A misspelt command, option or file gets the name that was probably meant.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

WRONG_WORDS = 2
_WIDE = 80


class Reader(argparse.ArgumentParser):
    """argparse, with its errors in words that say what to type instead."""

    def __init__(self, **kinds: Any) -> None:
        super().__init__(formatter_class=_look, allow_abbrev=False, add_help=False, **kinds)
        self._positionals.title, self._optionals.title = "you name", "you may add"
        self.add_argument("-h", "--help", action="help", help="show this page")
        self.example = ""

    def read(self, words: Sequence[str] | None = None) -> argparse.Namespace:
        """What was asked for; wrong words are told and end the run."""
        typed = list(sys.argv[1:] if words is None else words)
        if not typed:
            self.print_help(sys.stderr)
            self.exit(WRONG_WORDS)
        if typed[0] in ("help", "?", "/?"):
            typed = [*typed[1:2], "--help"]
        options, further = self.parse_known_args(typed)
        if further:
            _commands(self).get(options.command, self).tell_further(further)
        return options

    def format_help(self) -> str:
        """First what it does, then what is typed, then an example."""
        page = self._get_formatter()
        page.add_text(self.description)
        page.add_usage(self.usage, self._actions, self._mutually_exclusive_groups, prefix="You type:  ")
        for group in self._action_groups:
            page.start_section(group.title)
            page.add_text(group.description)
            page.add_arguments(group._group_actions)
            page.end_section()
        page.add_text(self.epilog)
        return page.format_help()

    def tell_further(self, further: Sequence[str]) -> NoReturn:
        """Words that this command has no room for: an option that does not exist, or one word too many."""
        option = next((word for word in further if word.startswith("-")), "")
        if not option:
            self.error(f"there is no room for {further[0]}. A name with a blank in it stands between quotes")
        name = option.partition("=")[0]
        self.error(f"there is no option {name}{_meant(name, self._option_string_actions)}")

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and what to type; the exit code is that of wrong words."""
        lines = [_in_plain_words(message)]
        if self.example:
            lines.append(f"for example: {self.example}")
        lines.append(f"all that may be typed: {self.prog} --help")
        self.exit(WRONG_WORDS, "\n".join(lines) + "\n")


def _look(prog: str) -> argparse.HelpFormatter:
    return argparse.RawDescriptionHelpFormatter(prog, width=_WIDE, max_help_position=26)


def _commands(reader: argparse.ArgumentParser) -> dict[str, Reader]:
    chosen = [action for action in reader._actions if isinstance(action, argparse._SubParsersAction)]
    return dict(chosen[0].choices) if chosen else {}


def command(commands: Any, name: str, does: str, *, example: str) -> Reader:
    """A new command: what it does as one sentence, and one line that can be typed as it stands."""
    reader: Reader = commands.add_parser(name, help=does, description=f"{does[:1].upper()}{does[1:]}.", epilog=f"Example:  {example}")
    reader.example = example
    return reader


def _in_plain_words(message: str) -> str:
    """argparse's own sentences in ours.

    >>> _in_plain_words("the following arguments are required: FILE")
    'something is missing: FILE'
    """
    needed = "the following arguments are required: "
    if message == f"{needed}COMMAND":
        return "a command is missing: it is the first word, such as price"
    if message.startswith(needed):
        return f"something is missing: {message.removeprefix(needed)}"
    if "invalid choice: " in message:
        typed = message.partition("invalid choice: ")[2].partition(" (choose from ")
        return _no_choice(typed[0].strip("'\""), typed[2].rstrip(")"), of_command=message.startswith("argument COMMAND"))
    if message.endswith("expected one argument"):
        return f"{message.split()[1].rstrip(':')} wants a word behind it"
    if "invalid int value: " in message:
        return f"{message.split()[1].rstrip(':')} wants a whole number behind it, and {message.rpartition(': ')[2]} is none"
    if message.endswith("expected at least one argument"):
        return f"{message.split()[1].rstrip(':')} wants at least one word behind it"
    return message


def _no_choice(typed: str, choices: str, *, of_command: bool) -> str:
    known = [one.strip("'\" ") for one in choices.split(",")]
    if not of_command:
        return f"{typed} is not one of {', '.join(known)}{_meant(typed, known)}"
    if Path(typed).exists() or Path(typed).suffix.lower() in (".xlsx", ".xlsm"):
        return f"{typed} is a file or folder; a command stands before it. Did you mean: estimator price {quoted(typed)}"
    return f"there is no command {typed}{_meant(typed, known) or '. The commands are ' + ', '.join(known)}"


def _meant(typed: str, known: Any) -> str:
    from estimator.reading.names import close_to

    near = close_to(typed, known)
    return f". Did you mean {near}?" if near else ""


def not_there(path: Path) -> str:
    """The sentence for a file or folder that does not exist, with the name beside it that was probably meant.

    >>> not_there(Path("no-such-folder/north.xlsx"))
    'no-such-folder/north.xlsx is not there: there is no folder no-such-folder either. Look at the spelling'
    """
    folder = path.parent
    if not os.path.isdir(folder):
        return f"{path} is not there: there is no folder {folder} either. Look at the spelling"
    from estimator.reading.names import close_to

    names = sorted(one.name for one in folder.iterdir() if not one.name.startswith((".", "~$")) and one.exists())
    without_ending = [name for name in names if Path(name).stem == path.name and Path(name).suffix.lower() in (".xlsx", ".xlsm")]
    near = without_ending[0] if without_ending else close_to(path.name, names)
    if near:
        return f"{path} is not there. Did you mean {folder / near}?"
    books = [name for name in names if name.lower().endswith((".xlsx", ".xlsm"))]
    where = "this folder" if str(folder) == "." else f"the folder {folder}"
    if not books:
        return f"{path} is not there, and {where} holds no workbook at all. Name the folder in which the workbook lies"
    shown = ", ".join(books[:6]) + (" and more" if len(books) > 6 else "")
    return f"{path} is not there. The workbooks in {where}: {shown}"


def quoted(name: str) -> str:
    """A name as it must be typed: between quotes where a blank or a sign of the command line stands in it.

    >>> quoted("kitchen.xlsx"), quoted("Müller & Söhne.xlsx"), quoted("O'Hara.xlsx")
    ('kitchen.xlsx', '"Müller & Söhne.xlsx"', '"O\\'Hara.xlsx"')
    """
    plain = all(sign.isalnum() or sign in "._-/\\:" for sign in name)
    return name if plain else f'"{name}"'
