"""``python -m specgen``: the same as the ``specgen`` command."""

from specgen.commands import main

main()
