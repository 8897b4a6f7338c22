"""The command line: picks the command. Only this package prints."""


def main() -> int:
    """Run the command named on the command line and give its exit code."""
    return 0
