"""Entry point of `python -m routecheck` and of the `routecheck` command. Nothing else may live here."""

import signal
import sys


def main() -> int:
    """Run the command line. While it is imported, and once it is done, Ctrl-C ends the process without a word."""
    is_interruptible = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if is_interruptible:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from routecheck.cli.main import main as run

    if is_interruptible:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    code = run()
    if is_interruptible:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    return code


if __name__ == "__main__":
    sys.exit(main())
