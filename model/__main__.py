"""python -m model COMMAND."""

from model.cli_fleet import main

if __name__ == "__main__":
    main()
