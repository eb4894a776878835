"""Gives back the `guide` command: reads the arguments, runs one command, turns what it says into an exit code."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from generator.commands import check, compare, concessions, pin, select, write
from generator.commands.at_hand import CannotRun, need_knowledge_base
from generator.commands.printing import print_problems
from generator.problems import Place, Problem, Refused

COMMANDS = (check, compare, concessions, pin, select, write)


def main(arguments: list[str] | None = None) -> int:
    """0 clean, 1 problems in the data or the application, 2 could not run. Raises nothing."""
    parser = argparse.ArgumentParser(
        prog="guide", description="Rules for choosing electromagnetic flow sensors: check them, ask them, print them.")
    parser.add_argument("--debug", action="store_true", help="show the whole report of an unexpected fault")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for command in COMMANDS:
        add_common(command.add_to(commands))
    options = parser.parse_args(arguments)
    try:
        need_knowledge_base(options.data)
        return options.run(options)
    except Refused as refused:
        print_problems(refused.problems, options.json)
        return 1
    except CannotRun as lacking:
        if options.json:
            print_problems(lacking.problems, True)
        else:
            print(lacking, file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")       # the reader of our output has gone: no more to say
        return 2
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        file, said = str(error.filename or "input"), str(error.strerror or error)
        problem = Problem(Place(file), "Y014", said, _what_to_do(error))
        if options.json:
            print_problems([problem], True)
        else:
            print(problem, file=sys.stderr)
        return 2
    except Exception as error:                                      # the last line of defence: say it in one line
        if options.debug:
            raise
        print(f"guide: unexpected fault ({type(error).__name__}: {error}); run `guide --debug ...` for the whole report",
              file=sys.stderr)
        return 2


def add_common(parser: argparse.ArgumentParser) -> None:
    """The options that every command has."""
    parser.add_argument("--data", type=Path, default=Path("data"), metavar="FOLDER",
                        help="the knowledge base (default: data)")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--overlay", type=Path, metavar="FOLDER",
                       help="a company's overlay (default: the one that guide.yml of the data names)")
    which.add_argument("--base", action="store_true", help="the base alone, without any company's overlay")
    parser.add_argument("--json", action="store_true", help="the same facts as JSON")


# private

def _what_to_do(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "make the folder first, or give another name"
    if isinstance(error, (FileExistsError, NotADirectoryError)):
        return "give the name of a folder; this is a file"
    if isinstance(error, IsADirectoryError):
        return "give the name of a file; this is a folder"
    return "check the path, its rights and the space on the disk"


if __name__ == "__main__":
    sys.exit(main())
