"""Help in groups: commands by what they are for, and in each command the options of most commands apart."""

from __future__ import annotations

from typing import Any

from typer.core import TyperCommand, TyperGroup

BEGIN = "Begin and check"
PLAN = "Plan and change"
ASK = "Ask"
SEASON = "Through the season"
RECORDS = "Records"
DRAWINGS = "Drawings"
READ = "Read on"
SHARED = "Options of most commands"


class GroupedCommands(TyperGroup):
    """Commands listed below the heading they were given, in the order in which they were added."""

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Write the commands group by group."""
        groups: dict[str, list[tuple[str, str]]] = {}
        widest = max(map(len, self.commands))
        for name, command in self.commands.items():
            told = command.get_short_help_str(formatter.width - widest - 6)
            groups.setdefault(str(getattr(command, "rich_help_panel", None) or "Commands"), []).append((name, told))
        for heading, rows in groups.items():
            with formatter.section(heading):
                # One width for all groups, so that they stand below each other.
                formatter.write_dl([(name.ljust(widest), told) for name, told in rows])


class GroupedOptions(TyperCommand):
    """A command whose own options stand before those of most commands."""

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write arguments, then the options group by group."""
        groups: dict[str, list[tuple[str, str]]] = {}
        for option in self.get_params(ctx):
            told = option.get_help_record(ctx)
            if told is not None:
                kind = "Arguments" if option.param_type_name == "argument" else "Options"
                shared = option.name == "help" or getattr(option, "rich_help_panel", None) == SHARED
                groups.setdefault(SHARED if shared else kind, []).append(told)
        for heading in ("Arguments", "Options", SHARED):
            if heading in groups:
                with formatter.section(heading):
                    formatter.write_dl(groups[heading])
