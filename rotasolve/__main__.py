"""``python -m rotasolve`` runs the command line."""

from rotasolve.cli.app import main

if __name__ == "__main__":
    main()
