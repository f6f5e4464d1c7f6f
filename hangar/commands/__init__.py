"""What ``hangar`` does when it is called by name."""

from hangar.commands.running import COMMANDS, main

__all__ = ["COMMANDS", "main"]
